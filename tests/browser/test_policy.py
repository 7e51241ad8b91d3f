"""Public pages hold to their content-security policy: what they do works, and what a stranger puts in does not run."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.browser.host import serving
from tests.browser.waiting import until

PAGES = ("index.html", "projects/lantern.html", "demonstrations.html", "404.html", "reference/cuts.html")
INJECTED = """() => {
    window.ran = [];
    window.said = [];
    document.addEventListener('securitypolicyviolation', event => window.said.push(event.effectiveDirective));
    const script = document.createElement('script');
    script.textContent = 'window.ran.push("script")';
    document.body.append(script);
    const other = document.createElement('script');
    other.src = 'https://elsewhere.example/x.js';
    document.body.append(other);
    const frame = document.createElement('iframe');
    frame.src = 'https://elsewhere.example/';
    document.body.append(frame);
    document.body.insertAdjacentHTML('beforeend', '<img src="data:," onerror="window.ran.push(\\'handler\\')">');
    return fetch('https://elsewhere.example/').catch(() => null)
        .then(() => new Promise(done => setTimeout(done, 300)));
}"""
ASKING = (
    "<!doctype html><html lang=en><title>A test</title><link rel=icon href='data:,'>"
    "<img alt='' src='https://elsewhere.example/a.png'><img alt='' src='https://192.0.2.1/b.png'></html>"
)
"""A page without a policy that asks two hosts of those kept for examples, by name and address (RFC 2606, RFC 5737)."""
HELD_BACK = ("script-src-elem", "script-src-attr", "connect-src", "frame-src")


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("way", ["disk", "host"])
def test_every_public_page_loads_under_its_policy_from_a_disk_and_a_host(
    path: str, way: str, site: Path, served: str, glance: Any
) -> None:
    text = (site / path).read_text(encoding="utf-8")
    assert text.count('http-equiv="Content-Security-Policy"') == 1
    assert "'unsafe-inline'" not in text.partition("script-src")[2].partition(";")[0].partition('"')[0]
    seen = glance((site / path).as_uri() if way == "disk" else served + path)
    assert not seen.complaints
    assert not seen.asked


@pytest.mark.parametrize("way", ["disk", "host"])
def test_a_script_that_was_put_in_does_not_run_and_asks_no_host(way: str, site: Path, served: str, look: Any) -> None:
    seen = look((site / "projects/lantern.html").as_uri() if way == "disk" else f"{served}projects/lantern.html")
    seen.page.evaluate(INJECTED)
    for directive in HELD_BACK:
        until(seen.page, f"window.said.includes('{directive}')")
    assert seen.page.evaluate("window.ran") == []
    assert not seen.asked


@pytest.mark.parametrize("way", ["disk", "host"])
@pytest.mark.parametrize("eye", ["look", "glance"])
def test_a_page_that_does_ask_another_host_would_be_found(
    way: str, eye: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    (tmp_path / "page.html").write_text(ASKING, encoding="utf-8")
    with serving(tmp_path) as home:
        opened = request.getfixturevalue(eye)
        seen = opened((tmp_path / "page.html").as_uri() if way == "disk" else f"{home}page.html")
        assert set(seen.asked) == {"https://elsewhere.example/a.png", "https://192.0.2.1/b.png"}
        assert len(seen.complaints) == 2
