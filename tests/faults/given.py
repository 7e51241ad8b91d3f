"""What a command works on that the archive of one piece does not hold: put there by hand, as its author would."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

from handouts_build.site.starter import start_project

__all__ = [
    "EVENING", "NAME", "a_call", "a_fuller_run", "a_parcel", "a_site", "a_write_up", "an_entry_sent", "an_evening_held",
    "loose_files", "mistyped_files", "no_evening", "nothing", "papers_unlisted",
]  # fmt: skip

NAME = "2026-06-05-tarn-valley"
EVENING = """\
date: 2026-06-05
start: 19:30
zone: Europe/London
speaker zone: America/New_York
club: Tarn Valley Turners
how: by video
slot: 60 min
paper: a4
private:
  contact: ["Host: 0555 0166"]
"""
_HELD = """\
runs:
  - began: "2026-06-05 19:32"
    kind: demonstration
    finished: true
    times:
      - {step: "Rough the blank", from: "0:00", to: "9:30"}
      - {step: "Turn the tenon and the knob", from: "9:30", to: "27:00"}
"""
_CALL = """\
title: One offcut
club: Fernhollow Turners
words: What can be made of one end of a plank.
dates: {opens: 2026-01-10, closes: 2026-04-01, shown: 2026-04-11, results: 2026-04-11}
rules: [Turned by you.]
write to: The club's desk by the door
hosts: [Wren Tarrow]
judges: [Linnet Marsh]
criteria: [What is good already]
"""
_ENTRY = """\
maker: A beginner named Robin
title: {title}
sent: 2026-02-01
woods: [sycamore]
size: {{diameter: 2 in, length: 3 in}}
words: Made of one end of a plank.
pictures: [{{file: {name}.png, shows: A pale piece with two rings, by: A friend}}]
"""


def nothing(root: Path) -> None:
    """What is there will do."""


def no_evening(root: Path) -> None:
    """The piece is to be shown nowhere."""
    shutil.rmtree(root / "projects" / "knob")


def an_evening_held(root: Path) -> None:
    """The stopwatch's run of the evening."""
    runs = root / "projects" / "knob" / "dry-runs"
    runs.mkdir()
    (runs / "2026-06-05.yml").write_text(_HELD, encoding="utf-8")


def a_fuller_run(root: Path) -> None:
    """The same run again, which goes on for longer, outside the archive."""
    an_evening_held(root)
    (root / "rescued.yml").write_text(_HELD.replace('to: "27:00"', 'to: "31:00"'), encoding="utf-8")


def loose_files(root: Path) -> None:
    """Two project files that are not in house form."""
    start_project("cup", root / "projects")
    for name in ("knob", "cup"):
        path = root / "projects" / f"{name}.yml"
        path.write_text(path.read_text(encoding="utf-8").replace("kind: knob", "kind:   knob"), encoding="utf-8")


def mistyped_files(root: Path) -> None:
    """Two project files with a near-miss word in each."""
    start_project("cup", root / "projects")
    for name in ("knob", "cup"):
        path = root / "projects" / f"{name}.yml"
        text = path.read_text(encoding="utf-8")
        assert "\nlevel: " in text
        path.write_text(text.replace("\nlevel: ", "\nlevle: ", 1), encoding="utf-8")


def a_write_up(root: Path) -> None:
    """An old write-up."""
    (root / "old.md").write_text("# A drawer knob\n\nTurn it between centers.\n\nThen oil it.\n", encoding="utf-8")


def a_site(root: Path) -> None:
    """A small site that was built for a disk."""
    site = root / "built"
    (site / "assets").mkdir(parents=True)
    (site / "index.html").write_text("<h1>A club's handouts</h1>\n" * 200, encoding="utf-8")
    (site / "assets" / "style.css").write_text("h1 { margin: 0 }\n", encoding="utf-8")


def a_parcel(root: Path) -> None:
    """A folder with a project that somebody sent, and its picture."""
    start_project("gift", root / "sent")
    shutil.rmtree(root / "sent" / ".schemas", ignore_errors=True)
    for path in (root / "sent").glob("shop.yml"):
        path.unlink()
    with (root / "sent" / "gift.yml").open("a", encoding="utf-8") as file:
        file.write('pictures:\n  - {file: gift.png, shows: "A small drawer knob of light wood"}\n')
    _picture(root / "sent" / "gift" / "gift.png")


def a_call(root: Path) -> None:
    """A call for pieces, with two entries."""
    entries = root / "projects" / "calls" / "one-offcut" / "entries"
    entries.mkdir(parents=True)
    (entries.parent / "call.yml").write_text(_CALL, encoding="utf-8")
    for title in ("Egg cup", "Tall top"):
        name = title.lower().replace(" ", "-")
        (entries / f"{name}.yml").write_text(_ENTRY.format(title=title, name=name), encoding="utf-8")
        _picture(entries / name / f"{name}.png")


def an_entry_sent(root: Path) -> None:
    """The same call, and a folder with an entry that somebody sent, and its picture."""
    a_call(root)
    (root / "entry").mkdir()
    (root / "entry" / "bowl.yml").write_text(_ENTRY.format(title="Small bowl", name="bowl"), encoding="utf-8")
    _picture(root / "entry" / "bowl" / "bowl.png")


def papers_unlisted(root: Path) -> None:
    """Papers that were handed out before there was a list of them."""
    words = (sys.executable, "-m", "handouts_build", "hand-out", "knob", "2026-06-05")
    subprocess.run(words, cwd=root, check=True, capture_output=True)
    (root / "projects" / "handed-out.sha256").unlink()


def _picture(path: Path) -> None:
    """A picture of a plain colour."""
    from PIL import Image

    path.parent.mkdir()
    Image.new("RGB", (320, 240), (180, 140, 90)).save(path)
