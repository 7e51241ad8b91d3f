"""What to pack, grouped as one packs.

This module owns the list: what the steps, the plan, the host's lathe and the
number of people ask for. What a group is called and what goes with what follows
common practice; there is no published source for it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from handouts_build.compute.evening.jaws import held_on
from handouts_build.compute.evening.sizing import ToolSizes, is_center
from handouts_build.compute.evening.stocking import USES, begun_on, finished_pieces, uses_of
from handouts_build.language import in_a_row, phrases_in_a_row, tr, tr_later
from handouts_build.paper import PROJECT, SIZES
from handouts_build.schema import DemonstrationKeys, ProjectKeys, ShopKeys, StepKeys, stands_for
from handouts_build.sheet import Sheet
from handouts_build.sheet.evening import Deadline, PackGroup, PackItem, PlanLine

__all__ = ["packed_with", "packing_list"]

# Whole words, or several in a row; the first group that knows one takes the tool.
_HOLDING = ("chuck", "centers?", "drive", "faceplate", "jaws?", "mandrel", "collets?", "steady", "pins?", "arbor")
_BORING = ("center drill", "drill", "bits?", "bradawl", "depth stop", "reamer")
_MARKING = (
    "pencil", "rule", "ruler", "dividers", "calipers?", "strip", "story stick", "try square", "compass", "marker",
    "templates?", "index", "ring", "gauge", "tape measure", "awl", "v block",
)  # fmt: skip
_SANDING = ("abrasives?", "sanding", "steel wool", "grits?")
_FINISHING = (
    "finish", "finishing", "oil", "wax", "glue", "adhesive", "lacquer", "shellac", "cloth", "brush", "epoxy", "thread",
    "towels?", "tape",
)  # fmt: skip
_PROTECTION = ("dust collector", "dust extractor", "shop vacuum", "face shield", "dust mask", "respirator")
_HELD = {
    "between centers": tr_later("Drive center and live center"),
    "off-axis centers": tr_later("Drive center and live center"),
    "chuck": tr_later("Four-jaw chuck"),
    "chuck opening out": tr_later("Four-jaw chuck"),
    "wide jaws": tr_later("Wide jaws for the chuck"),
    "screw chuck": tr_later("Screw chuck"),
    "drill chuck": tr_later("Drill chuck"),
    "collet": tr_later("Collets"),
    "faceplate": tr_later("Faceplate"),
    "jam chuck": tr_later("Jam chuck, turned to fit"),
    "vacuum chuck": tr_later("Vacuum chuck with pump and hoses"),
    "glue block": tr_later("Glue blocks"),
    "double-sided tape": tr_later("Double-sided tape"),
    "hot-melt glue": tr_later("Hot-melt glue and gun"),
    "mandrel": tr_later("Mandrel"),
    "steady rest": tr_later("Steady rest"),
}
_CENTERED = {"between centers", "off-axis centers"}
_SCREWS = tr_later("with its wood screws and their driver")
_DUSTY = {"sanding", "sanding at rest", "power sanding", "sawing", "carving", "cross-axis turning", "burning"}
_GRIT_LIST = re.compile(r"[Aa]brasives? (P?)\d+(?:, P?\d+)+")
_GRITS = re.compile(r"[Aa]brasives? (?P<scale>P?)(?P<least>\d+)(?: to P?(?P<most>\d+))?")
_FURTHER = ("from", "with", "for")
_VIDEO = tr_later("Cameras and sound")
_STUFF = {"oil", "wax", "glue", "epoxy", "lacquer", "shellac", "varnish"}
_SHIELD, _SPECTACLES, _MASK = (
    tr_later("Face shield"),
    tr_later("Safety spectacles"),
    tr_later("Dust mask or respirator"),
)
_AID, _CLOCK, _BRUSH = tr_later("First-aid kit"), tr_later("Clock"), tr_later("Bench brush and rubbish bag")
_SHARPENING = tr_later("Sharpening: hone, or what the club has")
_COMPUTER = tr_later("Computer with the meeting's link tried out")
_MICROPHONE, _LIGHT = tr_later("Microphone, worn"), tr_later("Light for the tool rest")
_CABLES, _SECOND = tr_later("Cables, power strip, spare batteries"), tr_later("Second device")
_ONCE = (
    _SHIELD, _SPECTACLES, _AID, _CLOCK, _SHARPENING, _BRUSH, _COMPUTER, _MICROPHONE, _LIGHT, _CABLES, _SECOND,
)  # fmt: skip
"""What an evening needs once, however many pieces are shown."""
_OURS = frozenset({*_HELD.values(), *_ONCE, _MASK})
"""What is packed by a name of ours, which an author's tool may have too: said by `tr` once each thing is there once."""
_SPARE_PAPERS = 1.1
"""One in ten over the head count: common practice, no published source."""


def packing_list(
    sheet: Sheet,
    project: ProjectKeys,
    asked: DemonstrationKeys,
    lines: Sequence[PlanLine],
    *,
    fitting: Sequence[PackItem],
    shop: ShopKeys,
    due: Sequence[Deadline] = (),
) -> tuple[PackGroup, ...]:
    """The packing list of a demonstration.

    Args:
        sheet: The project.
        project: Its model, for what safety words say of a step.
        asked: The demonstration.
        lines: The plan's.
        fitting: Adapters for the host's lathe.
        shop: The kit, for its jaws.
        due: What must be done by when, for pieces that dry.
    """
    # Whoever turns along needs the tools of every step, however it is shown.
    turned = [line.step for line in lines if line.step is not None and (line.shown == "live" or asked.seats)]
    models = _models(project, sheet)
    live = [models[step.number] for step in turned]
    jigs = {jig.title.casefold() for jig in sheet.jigs}
    tools = (tool for step in turned for tool in step.tools if tool.casefold() not in jigs)
    sorted_ = _sorted(tools, sheet.supplies)
    sizes = ToolSizes(sheet, project, shop)
    sized = {_headed(tool): size for tool, size in sizes.of_tools(turned, models).items()}
    groups = (
        (
            tr("Holding the work"),
            [
                *fitting,
                *_holding(live, sizes),
                *(_keyed(tool, sized.get(tool, "")) for tool in sorted_["holding"]),
                *held_on(sheet, project, shop, turned),
            ],
        ),
        (tr("Jigs, made before the evening"), list(_jigs(sheet))),
        (
            tr("Turning tools and hand tools"),
            [*map(PackItem, sorted_["turning"]), PackItem(_SHARPENING), *_seats(asked)],
        ),
        (tr("Drilling"), [PackItem(tool, sized.get(tool, "")) for tool in sorted_["boring"]]),
        (tr("Measuring and marking"), list(map(PackItem, sorted_["marking"]))),
        (tr("Abrasives"), [*map(PackItem, _grits(sorted_["sanding"])), *_abrasives(live)]),
        (tr("Glue, finish and the rest"), list(_supplies(sorted_["finishing"], live, each=_for_each(sheet, asked)))),
        (tr("Wood, ready-made pieces and blanks"), list(_wood(sheet, lines, asked, due))),
        (tr("Protection"), [*_protection(live, asked), *map(PackItem, sorted_["protection"])]),
        (tr("Papers and clock"), list(_papers(sheet, asked))),
        (tr(_VIDEO), list(_video(lines, asked))),
        (tr("Your own notes"), list(map(PackItem, asked.private.notes)) if asked.private else []),
    )
    return tuple(PackGroup(title, _once(items)) for title, items in groups if items)


def packed_with(groups: Sequence[PackGroup], other: Sequence[str], title: str) -> tuple[PackGroup, ...]:
    """A packing list without what is on the list of the piece that is shown first on the same evening.

    Args:
        groups: The list.
        other: How that piece is shown and this one: where they differ, all that a video needs stays.
        title: That piece.
    """
    video = len(set(other)) > 1
    gone = [item.what for group in groups for item in group.items if _once_only(item, group, video=video)]
    if not gone:
        return tuple(groups)
    kept = [replace(group, items=tuple(item for item in group.items if item.what not in gone)) for group in groups]
    shared = PackGroup(
        tr("On the list of {title}", title=title), (PackItem(phrases_in_a_row(gone), tr("once for both pieces")),)
    )
    return (*(group for group in kept if group.items), shared)


def _once_only(item: PackItem, group: PackGroup, *, video: bool) -> bool:
    return item.what in map(tr, _ONCE) and not (video and group.title == tr(_VIDEO))


def _seats(asked: DemonstrationKeys) -> Iterator[PackItem]:
    if asked.seats:
        yield PackItem(
            tr("Lathe, tools and rest for each hands-on seat"),
            tr("or have the host say in writing that they are there"),
            asked.seats,
        )


def _models(project: ProjectKeys, sheet: Sheet) -> dict[int, StepKeys]:
    """The model of each step, by its number on the sheet."""
    return {
        step.number: model
        for part in sheet.parts
        for step, model in zip(part.steps, project.parts[part.name].steps, strict=True)
    }


def _once(items: Iterable[PackItem]) -> tuple[PackItem, ...]:
    """Each thing once, by what it is."""
    kept: dict[str, PackItem] = {}
    for item in items:
        kept.setdefault(item.what.casefold(), item)
    return tuple(replace(item, what=tr(item.what)) if item.what in _OURS else item for item in kept.values())


def _sorted(tools: Iterable[str], supplies: Iterable[str]) -> dict[str, list[str]]:
    """Tools and supplies by the group they are packed in."""
    kinds = (
        ("sanding", _SANDING),
        ("protection", _PROTECTION),
        ("marking", ("center finder",)),
        ("holding", ("drill chuck",)),
        ("boring", _BORING),
        ("holding", _HOLDING),
        ("marking", _MARKING),
        ("finishing", _FINISHING),
    )
    found: dict[str, list[str]] = {"turning": [], **{kind: [] for kind, _ in kinds}}
    items = {
        _headed(tool): otherwise
        for listed, otherwise in ((supplies, "finishing"), (tools, "turning"))
        for tool in listed
    }
    for item, otherwise in items.items():
        said = item.casefold()
        # "Paper strip from the templates" is the paper strip that another step calls for, and towels are a towel.
        fuller = (f"{said}s", *(f"{said} {word} " for word in _FURTHER))
        if any(other.casefold().startswith(fuller) for other in items if other != item):
            continue
        kind = next((name for name, words in kinds if re.search(rf"\b(?:{'|'.join(words)})\b", said)), otherwise)
        found[kind].append(item)
    return found


def _keyed(tool: str, size: str = "") -> PackItem:
    """Something that holds, with its size; a chuck does not without its key, nor a faceplate without screws."""
    said = tool.casefold()
    if re.search(r"\bfaceplate\b", said):
        return PackItem(tool, tr(_SCREWS))
    jam = "jam chuck" in said
    return PackItem(tool, tr("with its key") if re.search(r"\bchuck\b", said) and not jam else size)


def _grits(kinds: Iterable[str]) -> list[str]:
    """Abrasives once each: ranges that run into one another are one range."""
    others: list[str] = []
    ranges: dict[str, list[tuple[int, int]]] = {}
    listed: dict[str, set[int]] = {}
    for kind in kinds:
        if in_full := _GRIT_LIST.fullmatch(kind):
            listed.setdefault(in_full[1], set()).update(map(int, re.findall(r"\d+", kind)))
            continue
        found = _GRITS.fullmatch(kind)
        if found is None:
            others.append(kind)
            continue
        least = int(found["least"])
        ranges.setdefault(found["scale"], []).append((least, int(found["most"] or least)))
    made = []
    for scale, pairs in ranges.items():
        merged: list[tuple[int, int]] = []
        for least, most in sorted(pairs):
            if merged and least <= merged[-1][1]:
                merged[-1] = (merged[-1][0], max(merged[-1][1], most))
            else:
                merged.append((least, most))
        # A range whose grits are listed is that list.
        lists = listed.get(scale, set())
        made += [
            tr("Abrasives {least} to {most}", least=f"{scale}{least}", most=f"{scale}{most}")
            if most > least
            else tr("Abrasives {grits}", grits=f"{scale}{least}")
            for least, most in merged
            if not lists or least < min(lists) or most > max(lists)
        ]
    for scale, grits in listed.items():
        made.append(tr("Abrasives {grits}", grits=in_a_row(f"{scale}{grit}" for grit in sorted(grits))))
    return [*made, *others]


def _headed(text: str) -> str:
    return text[:1].upper() + text[1:]


def _holding(live: Sequence[StepKeys], sizes: ToolSizes) -> Iterator[PackItem]:
    """What the holds ask for, apart from the tools that name it already."""
    every = " ".join(tool for step in live for tool in step.tools).casefold()
    unnamed = [step.hold for step in live if step.hold is not None and not _names_centers(step, every)]
    for step in live:
        hold = step.hold
        for word in hold.by if hold else ():
            # "four-jaw chuck" among the tools is the chuck meant, and "pin drive center" the center.
            named = word.startswith("chuck") and "chuck" in every.replace("drill chuck", "")
            named = named or (word in ("drill chuck", "faceplate", "steady rest", "mandrel") and word in every)
            named = named or (word == "between centers" and _names_centers(step, every))
            if word in _HELD and not named:
                yield _keyed(_HELD[word], sizes.of_centers(unnamed) if word in _CENTERED else "")
        if hold is not None and (jaws := hold.text("jaws")):
            yield PackItem(_headed(jaws), tr("for the chuck"))


def _names_centers(step: StepKeys, every: str) -> bool:
    """Whether the centers that hold a step are among its tools; those in pin holes may be another step's."""
    pinned = step.hold is not None and bool(step.hold.written("in"))
    return is_center(every if pinned else " ".join(step.tools))


def _abrasives(live: Iterable[StepKeys]) -> Iterator[PackItem]:
    kinds = dict.fromkeys(kind for step in live for kind in step.abrasive)
    for kind in kinds:
        if kind != "paper":
            yield PackItem(_headed(kind))


def _for_each(sheet: Sheet, asked: DemonstrationKeys) -> dict[str, str]:
    """Of each supply, where several people turn, for how many pieces it must do."""
    if not asked.seats:
        return {}
    text = tr("for {pieces} pieces", pieces=asked.seats + 1)
    return {_headed(supply): text for supply in sheet.supplies}


def _supplies(supplies: Sequence[str], live: Iterable[StepKeys], *, each: Mapping[str, str]) -> Iterator[PackItem]:
    """Supplies, each with the glue or finish it stands for; then those that no supply stands for."""
    kinds = dict.fromkeys(kind for step in live for kind in (*step.adhesive, *step.finish))
    met = set()
    for supply in supplies:
        said = supply.casefold()
        if said in _STUFF and any(said in other.casefold().split() for other in supplies if other != supply):
            continue
        mine = [kind for kind in kinds if stands_for(supply, kind)]
        met.update(mine)
        notes = [*(kind for kind in mine if kind not in said), *([each[supply]] if supply in each else [])]
        yield PackItem(supply, in_a_row(notes))
    yield from (PackItem(_headed(kind)) for kind in kinds if kind not in met)
    yield PackItem(_BRUSH)


def _wood(
    sheet: Sheet, lines: Sequence[PlanLine], asked: DemonstrationKeys, due: Sequence[Deadline]
) -> Iterator[PackItem]:
    whole, *pieces = finished_pieces(sheet, lines, remote=asked.how == "by video")
    yield PackItem(*whole)
    dries = {deadline.name: f"{deadline.on:%d %B %Y}".lstrip("0") for deadline in due}
    for line in lines:
        for piece in line.brought:
            by = dries.get(f"rough-{piece.part}-{piece.step}")
            why = (
                tr("“{step}”; rough it by {day}, so that it is dry", step=line.name, day=by)
                if by
                else tr("“{step}”", step=line.name)
            )
            yield PackItem(str(piece), why, 1)
    for part in sheet.parts:
        size = part.blank.told()
        begun = begun_on(part, lines)
        for use, count in uses_of(part, lines, seats=asked.seats or 0):
            if use == "spare" and begun is not None:
                # A blank would be of no use: what is turned first is turned on wood that has come this far.
                yield PackItem(tr("{piece}: spare", piece=begun), tr("in case the first is lost"), count)
            elif use != "ready-made":
                what = tr("{part}: blank, {use}", part=part.title, use=tr(USES[use]))
                yield PackItem(what, f"{part.wood}, {part.blank.shape}, {size}", count)
    yield from (PackItem(*piece) for piece in pieces)


def _jigs(sheet: Sheet) -> Iterator[PackItem]:
    """The jigs: whoever lacks one there cannot go on."""
    for jig in sheet.jigs:
        first, last = jig.steps[0].number, jig.steps[-1].number
        made = (
            tr("made at step {step}", step=first)
            if first == last
            else tr("made at steps {first} to {last}", first=first, last=last)
        )
        yield PackItem(jig.title, made, jig.count)


def _protection(live: Sequence[StepKeys], asked: DemonstrationKeys) -> Iterator[PackItem]:
    remote = asked.how == "by video"
    yield PackItem(_SHIELD, "" if remote else tr("your own, and the host's to try for fit"))
    yield PackItem(_SPECTACLES, tr("under the face shield"))
    work = {word for step in live for word in step.work}
    if work & _DUSTY:
        yield PackItem(_MASK, tr("and a way to take the dust off at its source"))
    if asked.seats:
        yield PackItem(tr("Face shields for the hands-on seats"), "", asked.seats)
        if work & _DUSTY:
            yield PackItem(tr("Dust masks for the hands-on seats"), "", asked.seats)
    if any(step.finish for step in live):
        yield PackItem(tr("Gloves for finishing"), tr("lathe off; never near turning work"))
        yield PackItem(tr("Metal can with lid, or water, for oily cloths"))
    yield PackItem(_AID, "" if remote else tr("ask where the host keeps one, and where the switch is"))


_SENT = {
    (True, False): tr_later("Handout, sent to the host"),
    (False, True): tr_later("Dimensions sheet, sent to the host"),
    (True, True): tr_later("Handout and dimensions sheet, sent to the host"),
}
_PRINTED = {
    (True, False): tr_later("Printed handouts"),
    (False, True): tr_later("Printed dimensions sheets"),
    (True, True): tr_later("Printed handouts and dimensions sheets"),
}
"""Papers by whether there is a handout, and a dimensions sheet."""


def _papers(sheet: Sheet, asked: DemonstrationKeys) -> Iterator[PackItem]:
    """What is read at the demonstration, and handed out: the papers that are made of the piece."""
    size = SIZES[asked.paper].title
    yield PackItem(
        tr("Run sheet"),
        tr("your own at the lathe; for whoever runs the cameras the one to share, without private notes"),
        2,
    )
    yield PackItem(_CLOCK, tr("to stand where you see it from the lathe"))
    heads = asked.attendees or 0
    handout, dimensions = not {"short", "full"}.isdisjoint(sheet.papers), "dimensions" in sheet.papers
    which = (handout, dimensions)
    if asked.how == "by video":
        if which in _SENT:
            when = (
                tr("{size}, for {heads} people, some days before", size=size, heads=heads)
                if heads
                else tr("{size}, some days before", size=size)
            )
            yield PackItem(tr(_SENT[which]), when)
        yield PackItem(tr("Address of the handout page"), tr("to put into the chat"))
        return
    if heads:
        copies = math.ceil(heads * _SPARE_PAPERS)
        if handout:
            yield PackItem(
                tr("Printed handouts"), tr("{size}, for {heads} people and some over", size=size, heads=heads), copies
            )
        if dimensions:
            yield PackItem(tr("Dimensions sheets"), size, copies)
    elif which in _PRINTED:
        yield PackItem(tr(_PRINTED[which]), tr("{size}; ask how many are coming", size=size))
    if "templates" in sheet.papers:
        yield PackItem(
            tr(PROJECT["templates"].title), tr("{size}, printed at actual size", size=size), max(2, asked.seats or 0)
        )
    yield PackItem(tr("Sheet with the address of the handout page"), tr("to put up by the door"))


def _video(lines: Sequence[PlanLine], asked: DemonstrationKeys) -> Iterator[PackItem]:
    wanted = dict.fromkeys(camera for camera in (*asked.cameras, *(line.camera for line in lines)) if camera)
    for camera in wanted:
        yield PackItem(
            tr("Camera: {camera}", camera=camera),
            "" if not asked.cameras or camera in asked.cameras else tr("not said to be there"),
        )
    if asked.how != "in the room":
        yield PackItem(_COMPUTER)
        yield PackItem(_MICROPHONE, tr("tried with the lathe running"))
        yield PackItem(_LIGHT)
        yield PackItem(_CABLES)
        yield PackItem(_SECOND, tr("to see what the audience sees"))
