"""Many projects at once: gathered, built, pictured and published."""
