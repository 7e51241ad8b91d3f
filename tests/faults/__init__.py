"""Commands that are killed, interrupted, or run out of disk, at every moment that can be named by a number."""
