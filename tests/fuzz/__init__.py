"""Mutated projects, each in a process of its own within limits: `python -m tests.fuzz --cases 5000 --seed 1`."""
