"""The pages of tasks and of the first hour: each is followed here to the letter, and its pictures are of today."""

from __future__ import annotations

import io
import os
import re
import shlex
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
from PIL import Image

from handouts_build.schema import reference_pages, task_pages
from handouts_build.schema.describe_tasks import TASK_HEAD, Task, tasks, tutorial_text
from tests.drawn_cuts import MOST_BYTES, kept
from tests.drawn_tasks import HOME, TaskDrawing, drawn_now

ROOT = Path(__file__).parents[2]
MOST_ALL_BYTES = 410_000
LONGEST, LONGEST_OF_TWO, WIDEST = 20, 27, 78
"""Lines of a task, of one with two parts, and signs of a line: more is no answer to one question."""


@cache
def today() -> dict[str, TaskDrawing]:
    return dict(drawn_now())


def named(task: Task) -> str:
    return task.name


@pytest.mark.parametrize("task", tasks(), ids=named)
def test_a_task_does_what_it_says_it_comes_to(task: Task) -> None:
    """Where this fails, `python -m tests.drawn_tasks` makes it again: look at it before it is kept."""
    held, made = kept(HOME)[task.name], today()[task.name]
    assert (held["key"], held["says"], tuple(held["result"])) == (made.key, made.says, made.result)
    # What is shown to be copied is sound: nothing stops it, and what is to be minded is told as accepted.
    assert not [line for line in made.result if line.startswith(("Stop:", "Mind:"))]
    assert made.result


@pytest.mark.parametrize("task", tasks(), ids=named)
def test_a_task_is_short_and_named_as_its_file_is(task: Task) -> None:
    assert len(task.text.splitlines()) <= (LONGEST if task.text.count("\n    steps:") == 1 else LONGEST_OF_TWO)
    assert max(map(len, task.text.splitlines())) <= WIDEST
    assert task.name == re.sub(r"[^a-z]+", "-", task.title.lower())
    assert task.says.endswith(".")
    assert task.title[0].isupper()


def test_those_that_are_asked_for_most_stand_first_and_there_are_some_ten_more() -> None:
    first = ["Hold by a tenon", "Drill around an equator", "Let a reader choose", "Accept a thin wall"]
    assert [task.title for task in tasks()[:4]] == first
    assert len(tasks()) >= 14


def test_every_picture_is_small_of_today_and_there_is_none_besides() -> None:
    assert kept(HOME).keys() == today().keys()
    assert {name: held["key"] for name, held in kept(HOME).items()} == {
        name: made.key for name, made in today().items()
    }
    pictures = sorted(HOME.glob("*.webp"))
    assert {path.stem.removesuffix("-dark") for path in pictures} == today().keys()
    for path in pictures:
        content = path.read_bytes()
        assert len(content) <= MOST_BYTES
        held = kept(HOME)[path.stem.removesuffix("-dark")]
        assert Image.open(io.BytesIO(content)).size == (held["width"], held["height"])
    assert sum(path.stat().st_size for path in pictures) <= MOST_ALL_BYTES


@pytest.mark.parametrize("ending", ["/", ".html"])
def test_pictures_lie_where_the_pages_point(ending: str) -> None:
    made = task_pages(ending)
    for page in ("tasks", "tutorial"):
        text = made[f"reference/{page}.md"]
        assert isinstance(text, str)
        # A page whose address ends in a stroke stands in a folder of its own name.
        home = f"reference/{page}/" if ending == "/" else "reference/"
        found = re.findall(r'src="([^"]+)"', text)
        assert found
        assert {os.path.normpath(home + source) for source in found} <= made.keys()
        assert "[picture:" not in text


def test_the_page_has_every_task_whole_with_what_it_comes_to() -> None:
    page = task_pages("/")["reference/tasks.md"]
    assert isinstance(page, str)
    assert TASK_HEAD in page
    for task in tasks():
        section = page.partition(f"\n## {task.title}\n")[2].partition("\n## ")[0]
        assert f"```yaml\n{task.text}```" in section
        for line in kept(HOME)[task.name]["result"]:
            assert f"- {line}" in section


def test_every_page_of_the_reference_is_found_from_its_first_and_none_is_long() -> None:
    pages = reference_pages()
    first = pages["reference/project-file.md"]
    for path in (*pages, "reference/cuts.md", "reference/tasks.md", "reference/tutorial.md"):
        name = path.removeprefix("reference/")
        assert name == "project-file.md" or f"({name})" in first
    assert max(len(text.encode()) for text in pages.values()) <= 32_000


# ---- The first hour, followed ----

BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
PATIENT = ("handouts bench",)
"""What runs until it is ended; its own tests run it."""


class Follower:
    """Does what a reader of the tutorial does."""

    def __init__(self, folder: Path) -> None:
        self.here = folder
        self.said = ""
        self.env = {
            **os.environ, "XDG_CACHE_HOME": str(folder / "cache"), "SOURCE_DATE_EPOCH": "1798761600",
            "NO_MKDOCS_2_WARNING": "1",
        }  # fmt: skip

    def sh(self, text: str) -> None:
        """Run the commands of a block."""
        said = []
        for line in text.splitlines():
            if line.startswith(PATIENT):
                continue
            program, *arguments = shlex.split(line)
            if program == "cd":
                self.here = self.here / arguments[0]
                continue
            module = {"handouts": "handouts_build", "mkdocs": "mkdocs"}[program]
            ran = subprocess.run(
                [sys.executable, "-m", module, *arguments], cwd=self.here, env=self.env, capture_output=True, text=True,
                check=False, timeout=600,
            )  # fmt: skip
            said.append(ran.stdout + ran.stderr)
            failed = "is not a number with a unit" in ran.stderr
            assert ran.returncode == 0 or failed, (line, ran.stdout, ran.stderr)
        self.said = "".join(said).replace("\N{NO-BREAK SPACE}", " ")

    def text(self, text: str) -> None:
        """Look for what the tutorial says one sees."""
        assert text in self.said

    def diff(self, text: str) -> None:
        """Change a file."""
        head, *rows = text.splitlines()
        file = self.here / head.removeprefix("--- ")
        old, new = ("\n".join(row[1:] for row in rows if row.startswith(sign)) for sign in "-+")
        written = file.read_text(encoding="utf-8")
        assert written.count(old) == 1
        file.write_text(written.replace(old, new), encoding="utf-8")

    def yaml(self, text: str) -> None:
        """Write a file."""
        head, _, rest = text.partition("\n")
        file = self.here / head.removeprefix("# ")
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(rest, encoding="utf-8")


def test_who_follows_the_first_hour_to_the_letter_sees_what_it_says(tmp_path: Path) -> None:
    following = Follower(tmp_path)
    blocks = BLOCK.findall(tutorial_text())
    assert len(blocks) >= 16
    for kind, text in blocks:
        getattr(following, kind)(text)
    site = following.here / "site"
    for made in (
        "index.html", "projects/my-egg.html", "projects/my-egg/at-the-lathe.html", "reference/tasks.html",
        "projects/my-egg/my-egg-handout-a4.pdf", "demonstrations.html",
        "projects/my-egg/handed-out/2031-05-14-club/my-egg-handout-letter.pdf",
    ):  # fmt: skip
        assert (site / made).is_file(), made
    assert not (site / "private").exists()
