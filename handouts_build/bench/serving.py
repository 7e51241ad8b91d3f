"""The bench's own small server: this machine alone, plain files, what is seen as JSON, and news of each save.

This module owns who is answered and with which headers. It answers nobody who asks for another host than this
machine by name, so that no page of the network reads a file through the browser; it takes nothing in but the name of
a project and the number of a step.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from urllib.parse import parse_qs, urlsplit

from handouts_build.bench.watcher import Watcher
from handouts_build.outputs.pages.assets import assets

__all__ = ["HOST", "BenchServer"]

HOST = "127.0.0.1"
"""This machine, and no other."""

_STILL_HERE_S = 10.0
"""How long a page that waits for news hears nothing: a browser that has left is noticed no later."""
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
_HEADERS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cache-Control": "no-store",
}
_TYPES = {
    "html": "text/html; charset=utf-8", "css": "text/css; charset=utf-8", "js": "text/javascript; charset=utf-8",
    "woff2": "font/woff2", "svg": "image/svg+xml",
}  # fmt: skip
_PAGE = {"/": "bench.html", "/bench.css": "bench.css", "/bench.js": "bench.js"}


@cache
def _plain() -> Mapping[str, bytes]:
    """The page and what it is made of, by path."""
    home = files("handouts_build.bench") / "files"
    made = {path: (home / name).read_bytes() for path, name in _PAGE.items()}
    return made | {f"/{asset.path}": asset.read() for asset in assets()}


class BenchServer(ThreadingHTTPServer):
    """Serves the bench on this machine.

    Args:
        watcher: The projects.
        port: Where; 0 for any that is free.

    Raises:
        OSError: If the port is taken.
    """

    daemon_threads = True
    allow_reuse_address = True

    def __init__(self, watcher: Watcher, *, port: int = 0) -> None:
        self.watcher = watcher
        super().__init__((HOST, port), _Answer)

    @property
    def address(self) -> str:
        """Where the page is."""
        return f"http://{HOST}:{self.server_address[1]}/"

    @property
    def known_hosts(self) -> frozenset[str]:
        """What a browser on this machine calls it."""
        return frozenset(f"{name}:{self.server_address[1]}" for name in (HOST, "localhost"))

    def handle_error(self, request: object, client_address: object) -> None:
        """Say nothing of a browser that has left."""


class _Answer(BaseHTTPRequestHandler):
    server: BenchServer
    server_version = "handouts"
    sys_version = ""
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        """Answer one request."""
        if self.headers.get("Host", "") not in self.server.known_hosts:
            self._send(HTTPStatus.FORBIDDEN, "text/plain; charset=utf-8", b"this is for the browser of this machine\n")
            return
        if self.headers.get("Sec-Fetch-Site", "none") not in ("none", "same-origin"):
            self._send(HTTPStatus.FORBIDDEN, "text/plain; charset=utf-8", b"this is for the bench's own page\n")
            return
        asked = urlsplit(self.path)
        asked_for = {name: values[0] for name, values in parse_qs(asked.query).items()}
        if (content := _plain().get(asked.path)) is not None:
            ending = _PAGE.get(asked.path, asked.path).rpartition(".")[2]
            self._send(HTTPStatus.OK, _TYPES[ending], content)
        elif asked.path == "/seen":
            self._seen(asked_for.get("project", ""), asked_for.get("step", ""), asked_for.get("near", ""))
        elif asked.path == "/news":
            self._news(asked_for.get("after", ""))
        else:
            self._send(HTTPStatus.NOT_FOUND, "text/plain; charset=utf-8", b"there is nothing here\n")

    def _seen(self, project: str, step: str, near: str) -> None:
        watcher = self.server.watcher
        try:
            said = watcher.said(project, _number(step), _number(near))
        except Exception as error:
            message = f"handouts has a fault of its own: {type(error).__name__}: {error}"
            self._send(HTTPStatus.INTERNAL_SERVER_ERROR, "text/plain; charset=utf-8", message.encode())
            return
        if said is None:
            self._send(HTTPStatus.NOT_FOUND, "text/plain; charset=utf-8", b"There is no such project here.")
            return
        body = json.dumps({**said, "projects": watcher.projects}, ensure_ascii=False).encode()
        self._send(HTTPStatus.OK, "application/json; charset=utf-8", body)

    def _news(self, after: str) -> None:
        """Server-sent events: the number of each look, as it is there."""
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream; charset=utf-8")
        for name, value in _HEADERS.items():
            self.send_header(name, value)
        self.send_header("Connection", "close")
        self.end_headers()
        self.close_connection = True
        number, watcher = _number(after), self.server.watcher
        try:
            while not watcher.ended:
                now = watcher.wait(number, _STILL_HERE_S)
                self.wfile.write(f"data: {now}\n\n".encode() if now != number else b": still here\n\n")
                self.wfile.flush()
                number = now
        except (BrokenPipeError, ConnectionError):
            return

    def _send(self, status: HTTPStatus, kind: str, body: bytes) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        for name, value in _HEADERS.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 (the standard library's name)
        """Say nothing: the terminal is for what matters."""


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0
