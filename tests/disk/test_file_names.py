"""Names of files that every system takes, by Microsoft's and Apple's published rules."""

from __future__ import annotations

import pytest

from handouts_build.disk.names import apart, fault_of_name, fault_of_path

# Microsoft, "Naming files, paths, and namespaces": the names of devices, with any ending; read 2026-11.
DEVICES = ("CON", "PRN", "AUX", "NUL", "COM0", "COM9", "LPT1", "COM\u00b9", "LPT\u00b3", "CONIN$", "CONOUT$")


@pytest.mark.parametrize("name", [*DEVICES, *(f"{name.lower()}.yml" for name in DEVICES), "nul .txt"])
def test_the_names_of_devices_are_no_names_of_files(name: str) -> None:
    assert "device" in fault_of_name(name)


@pytest.mark.parametrize(
    "name",
    ["", ".", "..", *(f"a{sign}b" for sign in '":\\/?*<|\n\0\u202e\u200b'), "a.", "a ", " a", "x" * 121],
)
def test_what_some_system_cannot_have_in_a_name_is_told(name: str) -> None:
    assert fault_of_name(name)


@pytest.mark.parametrize("name", ["lantern.yml", "im fenster (2).jpg", "Fräse.png", "console.yml", "com10.yml"])
def test_other_names_are_well(name: str) -> None:
    assert not fault_of_name(name)


@pytest.mark.parametrize("path", ["../a", "a/../../b", "/a", "a//b", "C:/a", "a/con/b", "x/" * 101 + "y"])
def test_a_path_that_leads_elsewhere_or_is_too_long_is_told(path: str) -> None:
    assert fault_of_path(path)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("a/B.jpg", "A/b.jpg"),
        ("a/fr\u00e4se.jpg", "a/fra\u0308se.jpg"),
        ("a", "a/b"),
        ("a/b", "A"),
        ("stra\u00dfe", "STRASSE"),
    ],
)
def test_names_that_one_disk_tells_apart_and_another_does_not_collide(first: str, second: str) -> None:
    assert apart(("other", first, second, "more")) == (first, second)


def test_names_that_are_apart_everywhere_are() -> None:
    assert apart(("a/b", "a/c", "b", "a b")) is None
