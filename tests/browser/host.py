"""A folder served on this machine while a test looks at it."""

from __future__ import annotations

import contextlib
import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

__all__ = ["BLANK", "BLANK_NAME", "KeepsNothing", "QuietHandler", "serving"]

BLANK = '<!doctype html><html lang="en"><link rel="icon" href="data:,"><title>Nothing</title></html>'
BLANK_NAME = "nothing-at-all.html"
"""An empty page, and the name by which every host has it: for a browser to rest on between two addresses."""


class QuietHandler(http.server.SimpleHTTPRequestHandler):
    """Files of a folder, without a word to the terminal."""

    def log_message(self, *_: Any) -> None:
        """Say nothing."""

    def do_GET(self) -> None:
        """Answer with a file, or with the empty page."""
        if self.path != f"/{BLANK_NAME}":
            super().do_GET()
            return
        self.send_response(200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(BLANK)))
        self.end_headers()
        self.wfile.write(BLANK.encode("ascii"))

    def handle(self) -> None:
        """Answer; a browser that goes away in the middle is no fault of the site's."""
        with contextlib.suppress(ConnectionError):
            super().handle()


class KeepsNothing(QuietHandler):
    """A host that lets the browser keep nothing: whoever looks again fetches everything again."""

    def end_headers(self) -> None:
        """Say so with every answer."""
        self.send_header("Cache-Control", "no-store")
        super().end_headers()


@contextlib.contextmanager
def serving(folder: Path, handler: type[QuietHandler] = QuietHandler) -> Iterator[str]:
    """The address of a folder while it is served.

    Args:
        folder: What is served.
        handler: How it is answered.
    """
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(handler, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_address[1]}/"
    server.shutdown()
    server.server_close()
    thread.join()
