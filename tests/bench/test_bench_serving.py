"""The bench answers this machine's browser alone, and nothing of it is in what is published."""

from __future__ import annotations

import http.client
import json
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from email.message import Message
from pathlib import Path

import pytest

from handouts_build.bench.serving import HOST, BenchServer
from handouts_build.bench.watcher import Watcher
from handouts_build.outputs.pages.assets import assets

WORDS = "title: Words\ntext: Nothing but words.\n"


@pytest.fixture
def server(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[BenchServer]:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    (tmp_path / "words.yml").write_text(WORDS, encoding="utf-8")
    watcher = Watcher(lambda: [tmp_path / "words.yml"], base=tmp_path)
    made = BenchServer(watcher)
    threads = [threading.Thread(target=run, daemon=True) for run in (made.serve_forever, watcher.follow)]
    for thread in threads:
        thread.start()
    yield made
    watcher.end()
    made.shutdown()
    made.server_close()
    for thread in threads:
        thread.join(30)


@dataclass
class Answer:
    status: int
    headers: Message
    body: bytes


def answered(server: BenchServer, path: str, *, method: str = "GET", **headers: str) -> Answer:
    with closing(http.client.HTTPConnection(HOST, server.server_address[1], timeout=60)) as asking:
        asking.request(method, path, headers={name.replace("_", "-"): value for name, value in headers.items()})
        with asking.getresponse() as answer:
            return Answer(answer.status, answer.headers, answer.read())


def test_it_listens_on_this_machine_alone(server: BenchServer) -> None:
    assert server.server_address[0] == "127.0.0.1"
    assert server.address == f"http://127.0.0.1:{server.server_address[1]}/"


@pytest.mark.parametrize("host", ["bench.example", "127.0.0.1", "127.0.0.1.bench.example:80", ""])
def test_who_asks_for_another_host_is_refused(server: BenchServer, host: str) -> None:
    """A page of the network whose name was made to lead here gets nothing (DNS rebinding)."""
    for path in ("/", "/seen?project=words", "/news"):
        answer = answered(server, path, Host=host)
        assert answer.status == 403
        assert b"Words" not in answer.body


@pytest.mark.parametrize(("whence", "status"), [("cross-site", 403), ("same-site", 403), ("same-origin", 200)])
def test_a_page_of_another_site_is_refused(server: BenchServer, whence: str, status: int) -> None:
    assert answered(server, "/seen?project=words", Sec_Fetch_Site=whence).status == status


def test_every_answer_lets_nothing_in_from_elsewhere(server: BenchServer) -> None:
    for path in ("/", "/bench.js", "/assets/handouts/css/handouts.css", "/seen", "/nowhere"):
        answer = answered(server, path)
        policy = answer.headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy
        assert "http" not in policy
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Cache-Control"] == "no-store"
        assert "Access-Control-Allow-Origin" not in answer.headers


@pytest.mark.parametrize(
    "path", ["/words.yml", "/../words.yml", "/%2e%2e/words.yml", "/assets/../../words.yml", "/seen?project=../words"]
)
def test_it_gives_no_file_but_its_own(server: BenchServer, path: str) -> None:
    assert answered(server, path).status == 404


@pytest.mark.parametrize("query", ["", "?project=words", "?project=words&step=x&near=-1", "?step=99999999999999"])
def test_it_says_what_it_sees_whatever_the_step(server: BenchServer, query: str) -> None:
    said = json.loads(answered(server, f"/seen{query}").body)
    assert (said["project"], said["title"], said["projects"]) == ("words", "Words", ["words"])


def test_news_comes_with_a_save(server: BenchServer, tmp_path: Path) -> None:
    number = json.loads(answered(server, "/seen?project=words").body)["number"]
    with closing(http.client.HTTPConnection(HOST, server.server_address[1], timeout=60)) as asking:
        asking.request("GET", f"/news?after={number}")
        with asking.getresponse() as news:
            (tmp_path / "words.yml").write_text(WORDS.replace("Words", "Other words"), encoding="utf-8")
            while not (line := news.readline().strip()).startswith(b"data:"):
                assert line in (b"", b": still here")
    said = json.loads(answered(server, "/seen?project=words").body)
    assert said["title"] == "Other words"
    assert said["number"] == int(line.removeprefix(b"data:")) == number + 1


def test_it_takes_nothing_in(server: BenchServer) -> None:
    assert answered(server, "/seen", method="POST").status == 501


PLAIN = """\
title: Stick
summary: A round stick.
parts:
  stick:
    wood: maple, sugar
    blank: {round: 2 in, long: 4 in}
    steps:
      - {name: Turn it, say: Turn it., hold: {by: [between centers]}, cut: [cylinder: {diameter: 1 7/8 in}]}
"""


@pytest.mark.skipif(sys.platform == "win32", reason="a process of one's own is ended by Ctrl-C there in another way")
def test_who_ends_it_while_it_looks_is_told_nothing_of_its_insides(tmp_path: Path) -> None:
    """The library of solids complains of what is still in use when Python ends."""
    file = tmp_path / "projects" / "stick.yml"
    file.parent.mkdir()
    file.write_text(PLAIN, encoding="utf-8")
    running = subprocess.Popen(
        [sys.executable, "-m", "handouts_build", "bench", "--port", "0"], cwd=tmp_path, stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT, text=True, env={**os.environ, "XDG_CACHE_HOME": str(tmp_path / "cache")},
        # Where the tests run in the background, Ctrl-C is ignored, and so it would be by all that they start.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )  # fmt: skip
    with running:
        assert running.stdout is not None
        address = running.stdout.readline().split()[4].removeprefix("http://").rstrip("/")
        with closing(http.client.HTTPConnection(address, timeout=120)) as asking:
            asking.request("GET", "/seen")
            assert asking.getresponse().status == 200
        file.write_text(PLAIN.replace("1 7/8", "1 3/4"), encoding="utf-8")
        time.sleep(0.1)
        running.send_signal(signal.SIGINT)
        try:
            told, _ = running.communicate(timeout=300)
        finally:
            running.kill()
        assert told.strip() == ""
    assert running.returncode == 0


def test_nothing_of_it_is_published() -> None:
    shared = {asset.path: asset.read() for asset in assets()}
    assert not [path for path, content in shared.items() if "bench" in path or b"bench" in content]
