"""Options of the plugin, as written in `mkdocs.yml`; what they do is for `plugin` to say."""

from __future__ import annotations

from mkdocs.config import config_options as c
from mkdocs.config.base import Config

__all__ = ["HandoutsConfig"]


class HandoutsConfig(Config):
    """Options of the plugin `handouts`."""

    enabled = c.Type(bool, default=True)
    """Whether the plugin does anything."""

    projects = c.Dir(default="projects", exists=False)
    """Folder of the project files, from where `mkdocs.yml` lies."""

    papers = c.Type(bool, default=True)
    """Whether the PDFs are made and offered on the pages."""

    policy = c.Type(bool, default=True)
    """Whether every page says that it loads nothing from other hosts and runs no script that is not in it."""

    take_away = c.Type(bool, default=False)
    """Whether the home page offers the whole site as one file to take away."""
