"""What a step takes away: the kinds of cut, one module a family."""
