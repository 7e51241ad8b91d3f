"""A folder served on this machine while a test looks at it."""

from __future__ import annotations

import contextlib
import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

__all__ = ["QuietHandler", "serving"]


class QuietHandler(http.server.SimpleHTTPRequestHandler):
    """Files of a folder, without a word to the terminal."""

    def log_message(self, *_: Any) -> None:
        """Say nothing."""

    def handle(self) -> None:
        """Answer; a browser that goes away in the middle is no fault of the site's."""
        with contextlib.suppress(ConnectionError):
            super().handle()


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
