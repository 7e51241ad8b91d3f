"""The cutting plan as a drawing: each stick as a bar, its pieces to scale.

This module owns that one drawing. It is plain SVG: bars and lettering, told apart by
their letters and by hatching, never by color alone.
"""

from __future__ import annotations

from html import escape

from handouts_build.figures.figure import Figure
from handouts_build.figures.style import FAMILY, Role
from handouts_build.language import in_a_row, phrases_in_a_row, tr
from handouts_build.quantities import UNITS, Quantity
from handouts_build.sheet.evening import StockCut, StockPlan

__all__ = ["cutting_figure"]

_WIDE = 170.0
_BAR = 8.0
_ROW = 17.0
_TEXT = 3.1
"""Height of lettering, mm; about 9 points."""


def cutting_figure(stock: StockPlan) -> Figure | None:
    """The sticks and what is cut from each; None where nothing is cut.

    Args:
        stock: The plan.
    """
    if not stock.cuts:
        return None
    longest = max(_mm(cut.long) for cut in stock.cuts)
    scale = _WIDE / longest
    letters = {part: chr(ord("A") + index % 26) for index, part in enumerate(line.part for line in stock.lines)}
    rows, said = [], []
    grouped: dict[tuple[object, ...], tuple[StockCut, int]] = {}
    for cut in stock.cuts:
        key = (cut.stick, tuple(name for name, _, _ in cut.pieces))
        grouped[key] = (cut, grouped[key][1] + 1) if key in grouped else (cut, 1)
    for index, (cut, count) in enumerate(grouped.values()):
        rows.append(_stick(cut, count, index * _ROW, scale, letters, stock))
        pieces = in_a_row(f"{letters[name]} {printed}" for name, _, printed in cut.pieces)
        said.append(
            tr(
                "{count} × {stick}, {long} long: {pieces}; left over {rest}.",
                count=count,
                stick=cut.stick,
                long=cut.long_printed,
                pieces=pieces,
                rest=cut.left_printed,
            )
        )
    high = len(rows) * _ROW
    key_text = phrases_in_a_row(tr("{letter} is {part}", letter=letter, part=part) for part, letter in letters.items())
    body = "".join(rows)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_WIDE + 1:g}mm" height="{high:g}mm" '
        f'viewBox="-0.5 0 {_WIDE + 1:g} {high:g}" font-family="{FAMILY}" font-size="{_TEXT}">'
        f"<title>{escape(tr('Cutting plan'))}</title>{_HATCH}{body}</svg>"
    )
    alt = " ".join([tr("Cutting plan. {parts}.", parts=key_text), *said])
    return Figure("cutting-plan", "", tr("Cutting plan"), svg, alt, _WIDE + 1, high)


_HATCH = (
    '<defs><pattern id="waste" width="2" height="2" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    f'<path d="M0 0V2" stroke="{Role.HATCH.value}" stroke-width="0.5"/></pattern></defs>'
)


def _mm(length: Quantity) -> float:
    return float(length.m_as(UNITS["mm"]))


def _stick(cut: StockCut, count: int, top: float, scale: float, letters: dict[str, str], stock: StockPlan) -> str:
    """One stick: its name, its bar, the pieces, and the lengths below them."""
    ink, wood = Role.INK.value, Role.WOOD.value
    bar = top + 5.5
    head = tr(
        "{count} × {stick}: {section}, {long} long",
        count=count,
        stick=cut.stick,
        section=cut.section,
        long=cut.long_printed,
    )
    made = [
        f'<text x="0" y="{top + 3.6:.2f}" fill="{ink}">{escape(head)}</text>',
        (
            f'<rect x="0" y="{bar:.2f}" width="{_mm(cut.long) * scale:.2f}" height="{_BAR}" fill="url(#waste)" '
            f'stroke="{ink}" stroke-width="0.25"/>'
        ),
    ]
    at, saw = _mm(stock.trim), _mm(stock.kerf)
    for name, long, printed in cut.pieces:
        x, wide = at * scale, _mm(long) * scale
        label = f"{letters[name]} {printed.lead}" if wide > 16 else letters[name]
        made.append(
            f'<rect x="{x:.2f}" y="{bar:.2f}" width="{wide:.2f}" height="{_BAR}" fill="{wood}" stroke="{ink}" '
            f'stroke-width="0.25"/><text x="{x + wide / 2:.2f}" y="{bar + _BAR / 2 + 1.1:.2f}" fill="{ink}" '
            f'text-anchor="middle">{escape(label)}</text>'
        )
        at += _mm(long) + saw
    return "".join(made)
