"""Does the evening hold together? A demonstration against the clock, the kit and the host's lathe."""
