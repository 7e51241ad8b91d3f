"""A page's content-security policy: what it may load and run, said in the page itself.

This module owns the policy. It stands in the page because that may lie on a disk or with any host;
a script that is written out in the page runs only by the hash of its text.
"""

from __future__ import annotations

import base64
import hashlib
import html
import re

__all__ = ["with_policy"]

_SCRIPT = re.compile(r"<script\b([^>]*)>(.*?)</script\s*>", re.IGNORECASE | re.DOTALL)
_SOURCE = re.compile(r"\ssrc\s*=", re.IGNORECASE)
_TYPE = re.compile(r"\stype\s*=\s*[\"']?([^\"'\s>]+)", re.IGNORECASE)
_RUN = frozenset({"", "module", "text/javascript", "application/javascript"})
"""Types of scripts that run; others are data and need no leave."""
_HEAD = re.compile(r"<head\b[^>]*>(?:\s*<meta\s+charset[^>]*>)?", re.IGNORECASE)

_LEAVE = {
    "default-src": "'none'",
    "style-src": "'self' 'unsafe-inline'",
    "img-src": "'self' data: blob:",
    "font-src": "'self' data:",
    "connect-src": "'self'",
    "media-src": "'self'",
    "manifest-src": "'self'",
    # A theme's search works beside the page; from a disk it does so in a frame.
    "worker-src": "'self' blob:",
    "frame-src": "'self' blob:",
    "object-src": "'none'",
    "base-uri": "'self'",
    "form-action": "'self'",
}


def with_policy(page: str) -> str:
    """A page that says what it may load: from its own place alone, and no script that is not in it now.

    Args:
        page: Whole HTML, as it will be sent.

    Returns:
        The same with the policy as the first thing in its head; unchanged where it has none.
    """
    head = _HEAD.search(page)
    if head is None:
        return page
    hashes = dict.fromkeys(_hash(found[2]) for found in _SCRIPT.finditer(page) if _runs(found[1]))
    leave = {**_LEAVE, "script-src": " ".join(("'self'", *hashes))}
    said = "; ".join(f"{what} {whence}" for what, whence in leave.items())
    meta = f'<meta http-equiv="Content-Security-Policy" content="{html.escape(said, quote=False)}">'
    return f"{page[: head.end()]}{meta}{page[head.end() :]}"


def _runs(attributes: str) -> bool:
    """Whether a script is written out in the page and is no data."""
    kind = _TYPE.search(attributes)
    return _SOURCE.search(attributes) is None and (kind[1].lower() if kind else "") in _RUN


def _hash(text: str) -> str:
    """How a policy names a script by its text (CSP Level 3, 2.3.1): line ends as the parser of HTML has them."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    return f"'sha256-{base64.b64encode(hashlib.sha256(plain.encode()).digest()).decode()}'"
