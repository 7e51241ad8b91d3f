"""An archive of one small project, laid out as its owner would, and MkDocs to build it."""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig

from handouts_build.site.starter import start_project

SETTINGS = """\
site_name: A club's handouts
site_url: https://handouts.example/
theme: {{name: material, font: {font}}}
plugins: [search, offline, {{handouts: {{papers: {papers}, enabled: {enabled}, take_away: {take_away}}}}}]
validation: {{omitted_files: warn, absolute_links: warn, unrecognized_links: warn, anchors: warn}}
"""


class Archive:
    """A folder with settings, documents and projects."""

    def __init__(self, home: Path) -> None:
        self.home = home
        self.docs = home / "docs"
        self.project = home / "projects" / "knob.yml"
        self.site = home / "site"
        self.docs.mkdir()
        (self.docs / "about.md").write_text("# About\n\n[A piece](projects/knob.md)\n", encoding="utf-8")
        start_project("knob", self.project.parent)
        self.settings()

    def settings(
        self,
        *,
        papers: str = "false",
        font: str = "false",
        enabled: str = "true",
        take_away: str = "false",
        more: str = "",
    ) -> None:
        text = SETTINGS.format(papers=papers, font=font, enabled=enabled, take_away=take_away) + more
        (self.home / "mkdocs.yml").write_text(text, encoding="utf-8")

    def edit(self, old: str, new: str) -> None:
        text = self.project.read_text(encoding="utf-8")
        assert old in text
        self.project.write_text(text.replace(old, new, 1), encoding="utf-8")

    def files(self) -> dict[str, bytes]:
        """Everything in the folder but the site, by path."""
        return {
            path.relative_to(self.home).as_posix(): path.read_bytes()
            for path in self.home.rglob("*")
            if path.is_file() and self.site not in path.parents
        }

    def built(self) -> dict[str, bytes]:
        """Everything in the site, by path."""
        return {
            path.relative_to(self.site).as_posix(): path.read_bytes() for path in self.site.rglob("*") if path.is_file()
        }


@pytest.fixture
def archive(tmp_path: Path) -> Archive:
    return Archive(tmp_path)


@pytest.fixture
def make(archive: Archive) -> Callable[..., MkDocsConfig]:
    """Build the site in this process, as `mkdocs build --strict` would."""

    def run(*, strict: bool = True) -> MkDocsConfig:
        config = load_config(str(archive.home / "mkdocs.yml"), strict=strict)
        config.plugins.on_startup(command="build", dirty=False)
        try:
            build(config)
        finally:
            config.plugins.on_shutdown()
            # Each build hangs its own counter of warnings there.
            logging.getLogger("mkdocs").handlers.clear()
        return config

    return run
