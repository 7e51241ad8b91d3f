"""The site is whole at any time: the last one until the new one is, however a build ends."""

from __future__ import annotations

import errno
import logging
import os
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from mkdocs import utils
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, PluginError

from handouts_build.disk.files import FolderWriter
from tests.plugin.conftest import Archive

Make = Callable[..., MkDocsConfig]
Hook = Callable[[str], None]


@pytest.fixture
def hook(archive: Archive) -> Hook:
    """Have the site's own hooks do something: the last that is asked before a build ends."""

    def written(code: str) -> None:
        (archive.home / "hooks.py").write_text(code, encoding="utf-8")
        archive.settings(more="hooks: [hooks.py]\n")

    return written


@pytest.fixture
def last(archive: Archive, make: Make) -> dict[str, bytes]:
    """The last site."""
    make()
    return archive.built()


def nothing_else(archive: Archive) -> bool:
    return not list(archive.home.rglob(".writing-*"))


def test_a_site_takes_the_place_of_the_last_one(archive: Archive, make: Make, last: dict[str, bytes]) -> None:
    archive.edit("A small drawer knob with", "A turned drawer knob with")
    (archive.docs / "about.md").unlink()
    config = make()
    built = archive.built()
    assert "about.html" in last.keys() - built.keys()
    assert b"A turned drawer knob" in built["projects/knob.html"]
    assert nothing_else(archive)
    # Who takes it from there, such as `mkdocs gh-deploy`, finds it by its name.
    assert Path(config.site_dir) == archive.site


@pytest.mark.parametrize("event", ["on_page_markdown(text, **_)", "on_post_page(text, **_)", "on_post_build(**_)"])
def test_strict_mode_that_ends_a_build_late_leaves_the_last_site(
    event: str, archive: Archive, make: Make, hook: Hook, last: dict[str, bytes]
) -> None:
    """MkDocs counts warnings, and only says so once every event is over."""
    hook(f"import logging\ndef {event}:\n    logging.getLogger('mkdocs.hooks').warning('mind this')\n")
    archive.edit("A small drawer knob with", "A turned drawer knob with")
    with pytest.raises(Abort, match="strict"):
        make()
    assert archive.built() == last
    assert nothing_else(archive)
    make(strict=False)
    assert b"A turned drawer knob" in archive.built()["projects/knob.html"]


def test_strict_mode_counts_though_quiet_was_asked_for(archive: Archive, make: Make, last: dict[str, bytes]) -> None:
    """`mkdocs build --quiet` hears errors alone, and counted no warning: half a site took the whole one's place."""
    (archive.docs / "late.md").write_text("[Nowhere](nowhere.md)\n", encoding="utf-8")
    logger = logging.getLogger("mkdocs")
    level = logger.level
    logger.setLevel(logging.ERROR)
    try:
        with pytest.raises(Abort, match="strict"):
            make()
    finally:
        logger.setLevel(level)
    assert archive.built() == last


def test_a_full_disk_is_one_message_and_leaves_the_last_site(
    archive: Archive,
    make: Make,
    last: dict[str, bytes],
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    real = utils.write_file

    def full(content: bytes, path: str) -> None:
        # Of a page MkDocs has a line of its own to say.
        if path.endswith("knob.html"):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), path)
        real(content, path)

    archive.edit("A small drawer knob with", "A turned drawer knob with")
    monkeypatch.setattr(utils, "write_file", full)
    with pytest.raises(PluginError, match=r"the disk said no: No space left .*; the last site is as it was"):
        make()
    assert "No space" not in caplog.text
    assert archive.built() == last
    assert nothing_else(archive)


def test_ctrl_c_leaves_the_last_site(archive: Archive, make: Make, hook: Hook, last: dict[str, bytes]) -> None:
    hook("def on_post_page(text, **_):\n    raise KeyboardInterrupt\n")
    with pytest.raises(KeyboardInterrupt):
        make()
    assert archive.built() == last
    assert nothing_else(archive)


def test_the_second_of_two_builds_says_who_the_first_is(archive: Archive, make: Make, last: dict[str, bytes]) -> None:
    with (
        FolderWriter(archive.site),
        pytest.raises(Abort, match="BuildError") as caught,
    ):
        make()
    assert archive.built() == last
    assert isinstance(caught.value.__context__, PluginError)
    assert f"written already (process {os.getpid()}, since " in str(caught.value.__context__)


def test_hidden_entries_of_the_last_site_stay(archive: Archive, make: Make, last: dict[str, bytes]) -> None:
    """A work tree of the branch that is published has its `.git` there."""
    (archive.site / ".git").write_bytes(b"gitdir: elsewhere")
    (archive.docs / "about.md").unlink()
    make()
    assert archive.built()[".git"] == b"gitdir: elsewhere"
    assert "about.html" not in archive.built()
    assert nothing_else(archive)


@pytest.mark.parametrize(("command", "dirty"), [("serve", False), ("serve", True), ("build", True)])
def test_a_preview_and_a_build_of_what_changed_are_left_to_mkdocs(archive: Archive, command: str, dirty: bool) -> None:
    config = load_config(str(archive.home / "mkdocs.yml"))
    config.plugins.on_startup(command=command, dirty=dirty)
    config = config.plugins.on_config(config)
    assert Path(config.site_dir) == archive.site
    config.plugins.on_shutdown()


def test_a_preview_that_calls_itself_a_build_is_known_by_its_folder(archive: Archive) -> None:
    """So does `mkdocs serve --clean`, and serves from the folder it made while it builds again and again."""
    with tempfile.TemporaryDirectory(prefix="mkdocs_") as folder:
        config = load_config(str(archive.home / "mkdocs.yml"), site_dir=folder)
        config.plugins.on_startup(command="build", dirty=False)
        build(config)
        assert (Path(folder) / "index.html").is_file()
        config.plugins.on_shutdown()
