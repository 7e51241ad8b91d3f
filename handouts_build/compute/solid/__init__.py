"""A part carried through its steps as a solid: judged, and told in numbers."""
