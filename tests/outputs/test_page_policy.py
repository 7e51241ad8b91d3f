"""A page's content-security policy, by CSP Level 3 of the W3C."""

from __future__ import annotations

from handouts_build.outputs.policy import with_policy

# CSP Level 3, 8.4: the W3C's own example of a script and its hash; the value was worked out again with
# `printf "alert('Hello, world.');" | openssl sha256 -binary | openssl base64`.
SCRIPT = "alert('Hello, world.');"
HASH = "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng="


def policy(page: str) -> str:
    return with_policy(page).partition('content="')[2].partition('"')[0]


def test_a_script_in_the_page_is_named_by_its_hash() -> None:
    assert f"script-src 'self' '{HASH}'" in policy(f"<head></head><script>{SCRIPT}</script>")


def test_line_ends_are_hashed_as_a_browser_reads_them() -> None:
    assert policy("<head><script>a\r\nb\rc</script>") == policy("<head><script>a\nb\nc</script>")


def test_data_and_files_need_no_hash_and_nothing_else_is_let_in() -> None:
    said = policy('<head></head><script type="application/json">{}</script><script src="a.js"></script>')
    assert "sha256" not in said
    assert "script-src 'self';" in f"{said};"
    assert "default-src 'none'" in said
    assert "script-src 'self' 'unsafe" not in said
    assert "http" not in said


def test_it_stands_before_all_that_it_rules() -> None:
    page = with_policy('<!doctype html><head>\n<meta charset="utf-8"><script>a</script></head>')
    assert page.index("Content-Security-Policy") < page.index("<script")
    assert page.index("charset") < page.index("Content-Security-Policy")
    assert with_policy("no page") == "no page"
