"""Public pages hold to their content-security policy: what they do works, and what a stranger puts in does not run."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

PAGES = ("index.html", "projects/lantern.html", "demonstrations.html", "404.html", "reference/cuts.html")
INJECTED = """() => {
    window.ran = [];
    const said = [];
    document.addEventListener('securitypolicyviolation', event => said.push(event.effectiveDirective));
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
        .then(() => new Promise(done => setTimeout(() => done([window.ran, said]), 300)));
}"""


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("way", ["disk", "host"])
def test_every_public_page_loads_under_its_policy_from_a_disk_and_a_host(
    path: str, way: str, site: Path, served: str, look: Any
) -> None:
    text = (site / path).read_text(encoding="utf-8")
    assert text.count('http-equiv="Content-Security-Policy"') == 1
    assert "'unsafe-inline'" not in text.partition("script-src")[2].partition(";")[0].partition('"')[0]
    seen = look((site / path).as_uri() if way == "disk" else served + path)
    assert not seen.complaints
    assert not seen.asked


@pytest.mark.parametrize("way", ["disk", "host"])
def test_a_script_that_was_put_in_does_not_run_and_asks_no_host(way: str, site: Path, served: str, look: Any) -> None:
    seen = look((site / "projects/lantern.html").as_uri() if way == "disk" else f"{served}projects/lantern.html")
    ran, said = seen.page.evaluate(INJECTED)
    assert not ran
    assert {"script-src-elem", "script-src-attr", "connect-src", "frame-src"} <= set(said)
    assert not seen.asked
