"""The bench: a live preview for whoever writes a project, on this machine only.

Nothing of it is in a published site.
"""
