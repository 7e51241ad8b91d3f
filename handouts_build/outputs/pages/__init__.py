"""The site's pages as Markdown, and the files that they point to."""
