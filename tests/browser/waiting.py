"""Waiting for what a page comes to.

Playwright's own waiting evaluates text within the page, which the pages' policy does not let anyone do.
"""

from __future__ import annotations

from playwright.sync_api import Page

__all__ = ["until"]

_PATIENCE, _PAUSE_MS = 600, 50
"""Looks, and what is between two: half a minute, for the machine may be busy."""


def until(page: Page, expression: str) -> None:
    """Look at a page until an expression of JavaScript is true in it.

    Args:
        page: The page.
        expression: Without side effects.

    Raises:
        AssertionError: If it never is.
    """
    for _ in range(_PATIENCE):
        if page.evaluate(f"() => Boolean({expression})"):
            return
        page.wait_for_timeout(_PAUSE_MS)
    raise AssertionError(f"never true: {expression}")
