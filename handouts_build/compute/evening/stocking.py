"""Blanks to prepare, and how to saw them from the wood on hand.

This module owns how many blanks of each part a demonstration asks for, what is sawn
for each, and puts the shop's sticks to the trade's cutting plan. Weights are for wood at 12 percent.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from handouts_build import workpiece as kernel
from handouts_build.compute.alike import KERF
from handouts_build.compute.blanks import as_stock, is_glued, measures, shape_of, swing_mm
from handouts_build.language import tr, tr_later
from handouts_build.quantities import Err, Kind, Printed, Quantity, Rule, inches, millimetres, of_kind, print_quantity
from handouts_build.schema import ShopKeys, StickKeys
from handouts_build.sheet import Blank, Course, Laminate, Part, Sheet
from handouts_build.sheet.evening import Brought, PlanLine, StockCut, StockLine, StockPlan, TakenStick
from handouts_build.tables.woods import lookup_wood
from handouts_build.trade.rings import INNER_EDGE, THICK
from handouts_build.trade.stock import Section, Stick, WantedPiece, board_feet, cubic_metres, cutting_plan

__all__ = ["USES", "begun_on", "finished_pieces", "section_of", "stock_plan", "uses_of"]

_MOISTURE = 0.12
_HAIR = 1e-6
_ROUND = 144
"""Millimeters under which two lengths are the same."""
_TRIM = inches(0.5)
"""Where the shop file says nothing: common practice, no published source."""


def section_of(blank: Blank) -> tuple[Section, Quantity]:
    """A blank's cross-section and its length along the axis; of one that is glued up, what is around it."""
    known = measures(blank)
    if is_glued(blank):
        across = millimetres(swing_mm(blank))
        return Section("round", across, across), known["length"]
    shape = shape_of(blank)
    sides = [known[what] for what in shape.section]
    word = "round" if shape.is_round or shape.as_grown else "board" if len(sides) > 1 else "square"
    return Section(word, sides[0], sides[-1]), known["length"]


@dataclass(frozen=True)
class _Sawn:
    """What is sawn for one blank."""

    section: Section
    long: Quantity
    pieces: int
    said: str
    """Its cross-section in words."""
    wood: Quantity
    """Volume of the blank itself."""

    @property
    def volume(self) -> Quantity:
        """Of the stock that is sawn for it."""
        volume: Quantity = self.section.area * self.long * self.pieces
        return volume


def _sawn(blank: Blank, rule: Rule) -> _Sawn:
    """A blank as it comes off the saw: itself, or the segments or staves it is glued up from."""
    if not is_glued(blank):
        section, long = section_of(blank)
        shape = shape_of(blank)
        wide = print_quantity(section.wide, rule, err=Err.OVER)
        said = tr("{wide} {log}, over the bark", wide=wide, log=tr(shape.called))
        if issubclass(shape, kernel.Log):
            # The saw leaves the rest of the log for another blank, or for the fire.
            solid = as_stock(blank, grain=kernel.Grain.ACROSS.value).solid(segments=_ROUND)
            return _Sawn(section, long, 1, said, of_kind(solid.volume_mm3, Kind.VOLUME))
        return _Sawn(section, long, 1, said if shape.as_grown else _section(section, rule), section.area * long)
    known = measures(blank)
    printed = {name: value for name, _, value in blank.sides}
    count, edge = round(float(known["pieces"].magnitude)), known["outer edge"]
    thick = THICK(across=known["width"], inside=known["opening"])
    printed_thick = print_quantity(thick, rule, err=Err.OVER)
    # n trapezoids, of both edges and the thickness between them.
    inner = INNER_EDGE(pieces=known["pieces"], inside=known["opening"])
    wood = (edge + inner) / 2 * thick * known["length"] * count
    if blank.shape == "glued-up ring":
        said = tr(
            "{segments} segments for each ring, {thick} by {length}, mitered {miter} at both ends (polygon geometry); "
            "on the outer edge",
            segments=count,
            thick=printed_thick,
            length=printed["length"],
            miter=printed["miter"],
        )
        return _Sawn(Section("board", thick, known["length"]), edge, count, said, wood)
    if "right width" in known:
        # The wall is told level; a stave lies along its slope.
        half = (known["right width"] - known["width"]) / 2
        slant = ((known["length"] ** 2 + half**2) ** 0.5).to("mm")
        thin = thick * float((known["length"] / slant).magnitude)
        said = tr(
            "{staves} staves for each, {edge} at the wide end by {thick}, edges tilted {bevel} and tapered {taper} "
            "from the center line (compound angle)",
            staves=count,
            edge=printed["outer edge"],
            thick=print_quantity(thin, rule, err=Err.OVER),
            bevel=printed["bevel"],
            taper=printed["taper"],
        )
        widest = max(known["width"], known["right width"])
        # Of each edge its mean over the height; the wall is as thick everywhere.
        outer = edge * ((known["width"] + half) / widest)
        wood = (outer + inner + edge * (half / widest)) / 2 * thick * known["length"] * count
        return _Sawn(Section("board", edge, thin), slant, count, said, wood)
    said = tr(
        "{staves} staves for each, {edge} on the outer edge by {thick}, both edges beveled {bevel} (polygon geometry)",
        staves=count,
        edge=printed["outer edge"],
        thick=printed_thick,
        bevel=printed["bevel"],
    )
    return _Sawn(Section("board", edge, thick), known["length"], count, said, wood)


@dataclass(frozen=True)
class _Length:
    """Lengths that are wanted of a stick, and what blanks they come to."""

    wanted: WantedPiece
    part: str
    long: Quantity
    """Of one blank."""
    several: int = 1
    """Blanks that are sawn from each, end to end."""
    pieces: int = 1
    """Lengths that one blank is glued up from."""

    def blanks(self, short: int) -> int:
        """How many blanks are lacking where so many lengths are; a ring with one segment too few is a ring too few."""
        return -(-short * self.several // self.pieces)

    def blanks_of_it(self, rule: Rule) -> Iterator[tuple[str, Quantity, Printed]]:
        """What is sawn from one such length, in turn."""
        for _ in range(self.several):
            yield self.part, self.long, print_quantity(self.long, rule, err=Err.OVER)


def _lengths(line: StockLine, sawn: _Sawn, several: int, kerf: Quantity) -> Iterator[_Length]:
    """The lengths that the blanks of a line are sawn from: one each, or as many end to end as the author asks.

    Args:
        line: How many blanks of what.
        sawn: One of them.
        several: How many blanks are sawn from one length.
        kerf: What each saw cut between them takes.
    """
    if several == 1:
        wanted = WantedPiece(line.part, sawn.section, sawn.long, line.count * sawn.pieces)
        yield _Length(wanted, line.part, sawn.long, pieces=sawn.pieces)
        return
    whole, rest = divmod(line.count, several)
    for together, count in ((several, whole), (rest, 1)):
        if together and count:
            name = f"{line.part}, {together} end to end" if together > 1 else line.part
            long = together * sawn.long + (together - 1) * kerf
            yield _Length(WantedPiece(name, sawn.section, long, count), line.part, sawn.long, several=together)


def _all_sawn(part: Part, rule: Rule) -> Iterator[tuple[str, str, _Sawn]]:
    """What is sawn for one blank of a part: what it is for, its wood, and the piece; of a stack, course by course."""
    stack, laminate = part.blank.stack, part.blank.laminate
    if laminate is not None:
        yield from _boards(part, laminate)
        return
    if stack is None:
        yield part.title, part.wood, _sawn(part.blank, rule)
        return
    for course in stack.courses:
        high = course.high_printed
        for strip in course.strips:
            name = f"{part.title}, {course.says}" + (f", {strip.wood}" if len(course.strips) > 1 else "")
            if course.edge is None:
                side = strip.wide_printed
                sawn = _Sawn(
                    Section("board", strip.wide, course.high), strip.wide, 1,
                    tr("{side} by {high}, a square for a round", side=side, high=high),
                    strip.wide * strip.wide * course.high,
                )  # fmt: skip
            else:
                said = tr(
                    "{segments} segments, {wide} by {high}, mitered {miter} at both ends (polygon geometry); on the "
                    "outer edge",
                    segments=strip.pieces,
                    wide=strip.wide_printed,
                    high=high,
                    miter=course.miter_printed,
                )
                inner = course.edge * _share(course)
                wood = (course.edge + inner) / 2 * strip.wide * course.high * strip.pieces
                sawn = _Sawn(Section("board", strip.wide, course.high), course.edge, strip.pieces, said, wood)
            yield name, strip.wood, sawn


def _boards(part: Part, laminate: Laminate) -> Iterator[tuple[str, str, _Sawn]]:
    """What is sawn for one laminate: its boards, those of one wood and thickness together."""
    block = as_stock(part.blank, grain=part.grain)
    assert isinstance(block, kernel.Laminated)
    long = millimetres(block.boards_long_mm)
    alike = Counter((board.wood, str(board.thick_printed)) for board in laminate.boards)
    boards = {(board.wood, str(board.thick_printed)): board for board in laminate.boards}
    for which, pieces in alike.items():
        board = boards[which]
        section = Section("board", laminate.wide, board.thick)
        values = {"part": part.title, "thick": board.thick_printed}
        size = {"wide": laminate.wide_printed, "thick": board.thick_printed}
        wood = section.area * long * pieces
        if pieces > 1:
            name = tr("{part}, {thick} boards", **values)
            said = tr("{pieces} boards, {wide} by {thick}, planed", pieces=pieces, **size)
        else:
            name, said = tr("{part}, {thick} board", **values), tr("{wide} by {thick}, planed", **size)
        yield name, board.wood, _Sawn(section, long, pieces, said, wood)


def _share(course: Course) -> float:
    """A segment's inner edge over its outer one: as the opening over the width."""
    return float((course.inside / course.across).magnitude) if course.inside is not None else 0.0


USES = {
    "to turn": tr_later("to turn"),
    "ready-made": tr_later("ready-made"),
    "spare": tr_later("spare"),
    "hands-on seats": tr_later("hands-on seats"),
}
"""What blanks are for, as it is said."""


def uses_of(part: Part, lines: Sequence[PlanLine], *, seats: int) -> tuple[tuple[str, int], ...]:
    """What blanks of a part are for, with how many.

    Args:
        part: The part.
        lines: The plan's.
        seats: Hands-on seats.
    """
    if part.falls_off:
        # Parted from another part, it comes with that part's wood.
        return ()
    live = _first_live(part, lines)
    ready = [at for at, line in enumerate(lines) for piece in line.brought if piece.part == part.name]
    # What is brought ready-made before the first live step is the piece that is turned.
    fresh = live is not None and not any(at <= live for at in ready)
    uses = (
        ("to turn", int(fresh)),
        ("ready-made", len(ready)),
        ("spare", int(live is not None)),
        ("hands-on seats", seats),
    )
    return tuple((use, count) for use, count in uses if count)


def _first_live(part: Part, lines: Sequence[PlanLine]) -> int | None:
    return next((at for at, line in enumerate(lines) if line.shown == "live" and _of(line, part)), None)


def begun_on(part: Part, lines: Sequence[PlanLine]) -> Brought | None:
    """The piece, made beforehand, that the first live step of a part is turned on; None where that is a fresh blank.

    Args:
        part: The part.
        lines: The plan's.
    """
    live = _first_live(part, lines)
    if live is None:
        return None
    brought = [piece for line in lines[: live + 1] for piece in line.brought if piece.part == part.name]
    return brought[-1] if brought else None


def _of(line: PlanLine, part: Part) -> bool:
    return line.step is not None and line.step.part == part.name


def finished_pieces(sheet: Sheet, lines: Sequence[PlanLine], *, remote: bool) -> tuple[tuple[str, str, int], ...]:
    """The finished pieces that are packed to be shown, each with what for, and how many.

    Of a set all are packed: what is turned there is shown beside the others.

    Args:
        sheet: The project.
        lines: The plan's.
        remote: Whether it is shown by video alone.
    """
    parts = [
        part
        for part in sheet.parts
        if any(_of(line, part) for line in lines)
        and not any(line.shown == "live" and _of(line, part) for line in lines)
        and not any(piece.part == part.name for line in lines for piece in line.brought)
    ]
    # A piece of one part that is made several times is that set.
    whole = sheet.parts[0].count if len(sheet.parts) == 1 else 1
    title = sheet.parts[0].title if whole > 1 else sheet.title
    if whole == 1:
        why = tr("to show first") if remote else tr("to show first and to pass around")
    elif remote:
        why = tr("to show first, and to compare with what is turned there")
    else:
        why = tr("to show first and to pass around, and to compare with what is turned there")
    return (
        (tr("{piece}, finished", piece=title), why, whole),
        *((tr("{piece}, finished", piece=part.title), tr("it is told, not turned"), part.count) for part in parts),
    )


def stock_plan(
    sheet: Sheet,
    lines: Sequence[PlanLine],
    *,
    seats: int,
    shop: ShopKeys,
    remote: bool,
    taken: Sequence[TakenStick] = (),
) -> StockPlan:
    """What to saw for a demonstration, and from which sticks.

    Args:
        sheet: The project.
        lines: The plan's.
        seats: Hands-on seats.
        shop: The wood on hand.
        remote: Whether it is shown by video alone.
        taken: Sticks that earlier demonstrations saw into.
    """
    rule = sheet.rule
    kerf, trim = shop.kerf or KERF, shop.trim or _TRIM
    wanted: list[tuple[StockLine, _Sawn, int]] = []
    volume = of_kind(0, Kind.VOLUME)
    for part in sheet.parts:
        uses = uses_of(part, lines, seats=seats)
        if not uses:
            continue
        for name, wood, sawn in _all_sawn(part, rule):
            weight = _weight(wood, sawn.wood)
            line = StockLine(
                name,
                wood,
                sawn.said,
                print_quantity(sawn.long, rule, err=Err.OVER),
                tuple((tr(USES[use]), count) for use, count in uses),
                None if weight is None else print_quantity(weight, rule),
                tr("{blanks} end to end from a length of {stick}", blanks=part.per_stick, stick=part.stick)
                if part.stick is not None
                else "",
            )
            wanted.append((line, sawn, part.per_stick))
            volume = volume + sawn.volume * line.count
    cuts: list[StockCut] = []
    missing: list[tuple[str, int, str]] = []
    cost: float | None = 0.0
    over, all_had = 0.0, True
    offered: set[str] = set()
    for wood in dict.fromkeys(_wood(line.wood) for line, *_ in wanted):
        here = [(line, sawn, several) for line, sawn, several in wanted if _wood(line.wood) == wood]
        lengths = [length for line, sawn, several in here for length in _lengths(line, sawn, several, kerf)]
        pieces, by_name = [length.wanted for length in lengths], {length.wanted.name: length for length in lengths}
        ours = [stick for stick in shop.sticks if _wood(stick.wood) == wood]
        offered |= {stick.name for stick in ours}
        prices = {stick.name: stick.price for stick in ours}
        counts = {stick.name: stick.count for stick in ours}
        sticks = list(_left(ours, taken))
        plan = cutting_plan(pieces, sticks, kerf=kerf, trim=trim)
        over, all_had = max(over, plan.over), all_had and plan.all_had
        for cut in plan.cuts:
            price = prices[cut.stick.name]
            cost = None if cost is None or price is None else cost + price
            cuts.append(
                StockCut(
                    cut.stick.name,
                    _section(cut.stick.section, rule),
                    cut.stick.long,
                    print_quantity(cut.stick.long, rule),
                    tuple(piece for own in cut.pieces for piece in by_name[own.name].blanks_of_it(rule)),
                    cut.left,
                    print_quantity(cut.left, rule, err=Err.UNDER),
                    counts[cut.stick.name],
                )
            )
        for length in lengths:
            if short := plan.short.get(length.wanted.name, 0):
                why = _why(length.wanted.name, pieces, sticks, trim, all_taken=bool(ours) and not sticks)
                missing.append((length.part, length.blanks(short), why))
    return StockPlan(
        lines=tuple(line for line, *_ in wanted),
        cuts=tuple(cuts),
        missing=tuple(missing),
        kerf=kerf,
        kerf_printed=print_quantity(kerf, rule),
        trim=trim,
        trim_printed=print_quantity(trim, rule),
        board_feet=board_feet(volume),
        cubic_metres=cubic_metres(volume),
        finished=tuple(piece for piece, *_ in finished_pieces(sheet, lines, remote=remote)),
        over=over,
        all_had=all_had,
        cost=cost if cuts else None,
        currency=shop.currency or "",
        taken=tuple(sawn for sawn in taken if sawn.stick in offered),
    )


def _left(sticks: Sequence[StickKeys], taken: Sequence[TakenStick]) -> Iterator[Stick]:
    """The sticks that are left once earlier demonstrations have theirs."""
    gone = Counter[str]()
    for sawn in taken:
        gone[sawn.stick] += sawn.count
    for stick in sticks:
        here = min(stick.count, gone[stick.name])
        gone[stick.name] -= here
        if stick.count > here:
            yield Stick(stick.name, _stick_section(stick), stick.long, stick.count - here)


def _why(name: str, pieces: Sequence[WantedPiece], sticks: Sequence[Stick], trim: Quantity, *, all_taken: bool) -> str:
    """Why a piece cannot be had."""
    if all_taken:
        return tr("earlier demonstrations saw up every stick of that wood")
    piece = next(piece for piece in pieces if piece.name == name)
    if not sticks:
        return tr("no stick of that wood is on hand")
    thick = [stick for stick in sticks if stick.section.yields(piece.section)]
    if not thick:
        return tr("no stick of that wood is thick enough")
    needed = float((piece.long + 2 * trim).magnitude) - _HAIR
    if all(float(stick.long.magnitude) < needed for stick in thick):
        return tr("no stick of that wood is long enough once its ends are trimmed")
    return tr("the sticks are used up")


def _wood(name: str) -> str:
    known = lookup_wood(name)
    return known.name if known else " ".join(name.casefold().split())


def _stick_section(stick: StickKeys) -> Section:
    for shape, across in (("round", stick.round), ("square", stick.square)):
        if across is not None:
            return Section(shape, across, across)
    # The model asks for a diameter, a side, or both sides of a board.
    assert stick.wide is not None
    assert stick.thick is not None
    return Section("board", stick.wide, stick.thick)


def _section(section: Section, rule: Rule) -> str:
    wide = print_quantity(section.wide, rule, err=Err.OVER)
    if section.shape == "round":
        return tr("{wide} round", wide=wide)
    if section.shape == "square":
        return tr("{wide} square", wide=wide)
    return tr("{wide} by {thick}", wide=wide, thick=print_quantity(section.thick, rule, err=Err.OVER))


def _weight(wood: str, volume: Quantity) -> Quantity | None:
    """Weight at 12 percent moisture: Wood Handbook, eq. 4-14."""
    known = lookup_wood(wood)
    if known is None or known.sg_12 is None:
        return None
    density = of_kind(known.sg_12.value * (1 + _MOISTURE) / 1000, Kind.DENSITY)
    weight: Quantity = density * volume
    return weight
