"""What must hold between the pieces of a project once its numbers are known.

This module owns the checks that no chapter can make alone: profiles against their
blanks, bits against the shop, pictures against the folder.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from handouts_build.compute.names import Ledger
from handouts_build.problems import near_miss
from handouts_build.quantities import Rule, print_quantity
from handouts_build.schema import Document, Key, Project, Shop
from handouts_build.sheet import Finding, Group, Level, Part

__all__ = ["bits_are_there", "pictures_found", "profiles_fit"]

_PICTURES = {".jpg", ".jpeg", ".png", ".webp"}
_SAME_MM = 1e-6
_SAME_BIT_MM = 0.01


def profiles_fit(groups: tuple[Group, ...], parts: tuple[Part, ...], rule: Rule, ledger: Ledger) -> Iterator[Finding]:
    """A profile must fit in the blank it is turned from.

    Args:
        groups: Of the sheet; those with a shape and a part are asked.
        parts: Of the sheet.
        rule: For printing.
        ledger: Takes note of a part that is not there.
    """
    blanks = {part.name: part.blank for part in parts}
    for group in groups:
        if group.shape is None or not group.part:
            continue
        if group.part not in blanks:
            hint = near_miss(group.part, blanks)
            ledger.note(("profiles", group.name, "part"), f"'{group.part}' is not a part", hint)
            continue
        sides = {what: value for what, value, _ in blanks[group.part].sides}
        across = min(
            (value for what, value in sides.items() if what != "length"), key=lambda side: float(side.magnitude)
        )
        for what, needs, has in (
            ("thick", group.values["widest"], across),
            ("long", group.values["length"], sides["length"]),
        ):
            if needs.magnitude > has.magnitude + _SAME_MM:
                needed, there = print_quantity(needs, rule), print_quantity(has, rule)
                yield Finding(
                    Level.STOP,
                    group.title,
                    f"the profile is {needed} {what} and its blank only {there}",
                    "choose a larger blank or draw the profile in",
                    ledger.document.place(("profiles", group.name)),
                )


def bits_are_there(groups: tuple[Group, ...], shop: Shop, document: Document) -> Iterator[Finding]:
    """A bit that the shop does not list is worth a note; a shop that lists none is not asked."""
    for group in groups:
        bit = group.values.get("bit")
        if not shop.bits or bit is None:
            continue
        if not any(abs(bit.magnitude - one.magnitude) < _SAME_BIT_MM for one in shop.bits):
            yield Finding(
                Level.NOTE,
                group.title,
                f"the shop file lists no bit of {group.printed['bit']}",
                "add it to the shop file, or choose a bit that is there",
                document.place(("workings", group.name, "bit")),
            )


def pictures_found(project: Project, folder: Path, ledger: Ledger) -> Iterator[tuple[int, Path]]:
    """The pictures that are there, in the project's own folder and of a kind that can be shown.

    Args:
        project: Its pictures are asked for.
        folder: Where they must lie, symbolic links followed.
        ledger: Takes note of the others.

    Yields:
        Index among the project's pictures, and the file.
    """
    home = folder.resolve()
    for index, picture in enumerate(project.pictures):
        key: Key = ("pictures", index, "file")
        written = Path(picture.file)
        path = (folder / written).resolve()
        if written.is_absolute() or "\\" in picture.file or not path.is_relative_to(home):
            ledger.note(
                key, f"'{picture.file}' lies outside the project's folder", f"put it in the folder {folder.name}/"
            )
        elif path.suffix.lower() not in _PICTURES:
            ledger.note(key, f"'{picture.file}' is not a picture that can be shown", "use a .jpg, .png or .webp file")
        elif not path.is_file():
            hint = _near(folder, written)
            ledger.note(key, f"there is no picture '{picture.file}' in the folder {folder.name}/", hint)
        else:
            yield index, path


def _near(folder: Path, written: Path) -> str:
    if not folder.is_dir():
        return f"make the folder {folder.name}/ beside the project file"
    return near_miss(written.name, [one.name for one in folder.iterdir() if one.suffix.lower() in _PICTURES])
