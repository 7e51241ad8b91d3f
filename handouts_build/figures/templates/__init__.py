"""Full-size templates: drawn at exactly 1:1."""
