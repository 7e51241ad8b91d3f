"""The commands `evening` and `hand-out` as they are typed: what they write, say, and leave alone."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from handouts_build.disk.privacy import is_private
from tests.evening.conftest import EVENING
from tests.typed import typed

NAME = "2026-06-06-saltmarsh"
LATHE = "lathe: {swing: 2 in, between: 20 in, thread: 1 in x 8 TPI, taper: MT2}\n"
FILES = {
    f"piece-{NAME}-{kind}"
    for kind in (
        "run-sheet-letter.pdf", "packing-list-letter.pdf", "stock-list-letter.pdf", "run-sheet-to-share.html",
        "run-sheet-to-share-letter.pdf", "run-sheet.html", "stopwatch.html", "calendar.ics",
    )
}  # fmt: skip


def command(*arguments: str, before: Callable[[], None] | None = None) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", "from handouts_build.cli import main; main()", *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=before,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )


def run_apart(*arguments: str, before: Callable[[], None] | None = None) -> tuple[int, str, str]:
    """Run it in a process of its own."""
    process = command(*arguments, before=before)
    out, err = process.communicate(timeout=120)
    return process.returncode, out, err


def everything(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.glob("*")}


def test_evening_writes_its_folder_and_says_how_the_plan_came_about(read, projects):
    read({NAME: EVENING})
    code, out, _ = run_apart("evening", "piece", "2026-06-06", "--to", "kit")
    assert code == 0
    assert set(everything(projects.parent / "kit")) == FILES
    assert "Turning everything live takes about" in out
    assert "Bring ready-made:" in out


def test_a_lathe_that_will_not_do_is_said_and_the_exit_status_tells(read, projects):
    read({NAME: EVENING + LATHE})
    code, _, err = typed("evening", "piece", "2026-06-06", "--to", "kit")
    assert code == 1
    assert "stop" in err
    assert "swings 2" in err
    # The papers are there all the same: they say it too.
    assert set(everything(projects.parent / "kit")) == FILES


def test_a_sign_that_the_fonts_lack_is_a_problem_of_the_demonstrations_file(read, projects):
    read({NAME: EVENING.replace("Saltmarsh Lathe Circle", "Saltmarsh \u6728")})
    code, _, err = typed("evening", "piece", "2026-06-06", "--to", "kit")
    assert code == 1
    assert f"projects/piece/demonstrations/{NAME}.yml: the papers' fonts have no sign for '\u6728'" in err
    assert "1 problem" in err
    assert everything(projects.parent / "kit") == {}


@pytest.mark.parametrize(
    "to", ["documents/evening", "documents", "public/x", "projects/piece", "documents/../documents/a", "link"]
)
def test_a_folder_that_is_published_is_refused(read, projects, to):
    read({NAME: EVENING})
    settings = "site_name: x\ndocs_dir: 'documents'  # mine\nsite_dir: public\nx: !!python/name:a.b\n"
    (projects.parent / "mkdocs.yml").write_text(settings, encoding="utf-8")
    (projects.parent / "documents").mkdir()
    (projects.parent / "link").symlink_to(projects.parent / "documents")
    before = sorted(projects.parent.rglob("*"))
    code, _, err = typed("evening", "piece", "2026-06-06", "--to", to)
    assert code == 1
    assert "contacts, links and notes would get into" in err
    assert "such as: --to private" in err
    assert sorted(projects.parent.rglob("*")) == before


def test_a_slip_in_a_projects_name_is_seen(read):
    read({NAME: EVENING})
    code, _, err = typed("evening", "peice", "2026-06-06", "--to", "kit")
    assert code == 1
    assert "there is no project 'peice' in projects/" in err
    assert "did you mean 'piece'?" in err


def test_every_private_page_and_calendar_is_known_by_its_head(read, projects):
    read({NAME: EVENING})
    assert typed("evening", "piece", "2026-06-06", "--to", "kit")[0] == 0
    kit = projects.parent / "kit"
    assert {one.name for one in kit.iterdir() if not is_private(one)} == {one for one in FILES if "to-share" in one}


def test_a_demonstration_that_is_not_there_writes_nothing(read, projects):
    read({NAME: EVENING})
    code, _, err = typed("evening", "piece", "2026-06-07", "--to", "kit")
    assert code == 1
    assert "there is no demonstration '2026-06-07'" in err
    assert not (projects.parent / "kit").exists()


def test_a_disk_that_takes_no_more_leaves_what_was_there(read, projects):
    """The system refuses files over 20,000 bytes, as a full disk refuses all: the old folder stays as it was."""
    resource = pytest.importorskip("resource")
    read({NAME: EVENING})
    assert typed("evening", "piece", "2026-06-06", "--to", "kit")[0] == 0
    before = everything(projects.parent / "kit")
    read({NAME: EVENING + "break: 10 min\n"})
    limit = 20_000
    code, _, err = run_apart(
        "evening", "piece", "2026-06-06", "--to", "kit",
        before=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit)),
    )  # fmt: skip
    assert code == 1
    assert "the disk said no: File too large" in err
    assert "Traceback" not in err
    assert everything(projects.parent / "kit") == before


@pytest.mark.skipif(sys.platform == "win32", reason="signals are sent otherwise there")
@pytest.mark.parametrize("after", [0.15, 0.4, 0.7, 1.0, 1.4])
def test_ctrl_c_leaves_all_or_none(read, projects, after):
    read({NAME: EVENING})
    process = command("evening", "piece", "2026-06-06", "--to", "kit")
    time.sleep(after)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    kit = set(everything(projects.parent / "kit"))
    assert kit in (set(), FILES)
    assert kit == FILES or process.returncode != 0, err


def test_hand_out_says_where_it_is_kept_and_does_it_once(read, projects):
    read({NAME: EVENING})
    code, out, _ = run_apart("hand-out", "piece", "2026-06-06")
    assert code == 0
    assert f"projects/piece/handed-out/{NAME}/" in out
    before = everything(projects / "piece" / "handed-out" / NAME)
    code, _, err = typed("hand-out", "piece", "2026-06-06")
    assert code == 1
    assert "have been handed out already" in err
    assert everything(projects / "piece" / "handed-out" / NAME) == before
