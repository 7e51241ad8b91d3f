"""What a demonstrator does: a dry run, the private folder, handing out."""
