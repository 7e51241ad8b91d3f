"""Files, folders, the cache, the clock and processes: what the library asks of the machine."""
