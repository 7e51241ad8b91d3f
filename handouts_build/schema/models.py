"""The keys of a project file.

This module owns which keys there are and what each is for; the reference page
and the editor's schema are generated from it, so a key that is not described
here cannot exist. Blanks, cuts, marks and holds are in `cut_keys`, the shop in `shop`. Whether
the values hold together is for `compute`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal, Union

from pydantic import Field, ValidationInfo, create_model, field_validator, model_validator

from handouts_build.quantities import Kind
from handouts_build.schema.cut_keys import ACCEPTED, BlankKeys, CutItem, HoldKeys, MarkItem
from handouts_build.schema.fields import (
    A_MINUTE,
    AuthorName,
    FileName,
    FormulaField,
    Label,
    Length,
    Line,
    Measure,
    Minutes,
    OneOf,
    Papers,
    Prose,
    Speed,
    Story,
    fault,
    whole,
)
from handouts_build.schema.known_keys import Alone, Keys
from handouts_build.schema.known_keys import key as _key
from handouts_build.schema.known_keys import required as _required
from handouts_build.schema.laminate_keys import LaminateKeys
from handouts_build.schema.moments import Day, Wait
from handouts_build.schema.stack_keys import StackKeys
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.trade import CHAPTERS
from handouts_build.trade.law import Chapter

__all__ = [
    "WORKINGS",
    "DimensionKeys",
    "ElementKeys",
    "ErratumKeys",
    "JointKeys",
    "LetInKeys",
    "MinutesKeys",
    "PartKeys",
    "ProfileKeys",
    "ProjectKeys",
    "ReadySizeKeys",
    "ShowKeys",
    "SizeKeys",
    "StepKeys",
]


# The words the safety rules know; their table is the one list.
Operation = Annotated[str, OneOf(WORDS[Fact.OPERATION])]
ShapeWord = Annotated[str, OneOf(WORDS[Fact.SHAPE])]
Abrasive = Annotated[str, OneOf(WORDS[Fact.ABRASIVE])]
Adhesive = Annotated[str, OneOf(WORDS[Fact.ADHESIVE])]
Finish = Annotated[str, OneOf(WORDS[Fact.FINISH])]
Condition = Annotated[str, OneOf(WORDS[Fact.CONDITION])]
Piece = Annotated[str, OneOf(WORDS[Fact.PIECE])]
Audience = Annotated[str, OneOf(WORDS[Fact.AUDIENCE])]
Setting = Annotated[str, OneOf(WORDS[Fact.SETTING])]
Accepted = Annotated[str, OneOf(ACCEPTED)]


class SizeKeys(Keys):
    """A length or count the maker chooses; a reader at home may choose otherwise within the bounds."""

    is_: Measure = _required("The value as the author makes it.", "2 1/4 in")
    says: Label = _required("What it is, in a few words.", "Diameter of the ball")
    least: Measure | None = _key("The smallest value that still works.", example="1 1/2 in")
    most: Measure | None = _key("The largest value that still works.", example="3 in")
    choices: list[Measure] | None = _key("The only values that work, where they are few.", example="[6, 8]")


class DimensionKeys(Keys):
    """A value that follows from others."""

    formula: FormulaField = _required(
        "How it follows: names, numbers with units, + - * / ^, brackets and functions.", "bore - 1/64 in"
    )
    says: Label = _required("What it is, in a few words.", "Tenon on the drop")
    err: Literal["over", "under", "nearest"] = _key(
        "The side that is safe when it is rounded to a mark on the rule: a tenon is made under, a blank over.",
        example="under",
        default="nearest",
    )
    fine: bool = _key("Whether to print thousandths instead of marks.", example="true", default=False)


class KeepKeys(Keys):
    """A condition that must hold whatever size is chosen."""

    that: FormulaField = _required("A comparison of lengths or counts.", "windows.web_bore >= 1/16 in")
    says: Line = _required("What fails when it does not hold.", "The webs between the windows would crumble.")
    remedy: Line | None = _key("What would put it right.", example="Choose a smaller bit or fewer ribs.")


class ReadySizeKeys(Keys):
    """The piece at other sizes, worked out beforehand: a table on the page and papers of its own."""

    says: Label = _required("What it is called.", "Large, for a window")
    sizes: Annotated[dict[AuthorName, Measure], Field(min_length=1)] = _required(
        "The sizes that differ, by name.", "{ball: 3 in}"
    )


class ElementKeys(Keys):
    """One element of a profile. What each kind uses is said under `along`."""

    long: FormulaField = _required("Length along the axis.", "3/8 in")
    diameter: FormulaField | None = _key(
        "Diameter of a cylinder, crest of a bead, bottom of a cove or vee.", example="1/2 in"
    )
    from_: FormulaField | None = _key(
        "Diameter where it starts; the end of the element before it if not given.", example="3/8 in"
    )
    to: FormulaField | None = _key("Diameter where it ends; where it started if not given.", example="1/8 in")
    says: Label | None = _key("What it is, for the drawing and the story stick.", example="upper bead")


class ProfileItem(Keys):
    """One entry of `along`: exactly one kind of element."""

    cylinder: ElementKeys | None = _key("Straight, of one `diameter`.", example="{diameter: 5/8 in, long: 1/2 in}")
    tenon: ElementKeys | None = _key(
        "Straight, of one `diameter`, to fit a hole.", example="{diameter: 3/8 in, long: 1/2 in}"
    )
    fillet: ElementKeys | None = _key(
        "A short straight step of one `diameter` between two shapes.", example="{diameter: 3/4 in, long: 1/16 in}"
    )
    taper: ElementKeys | None = _key(
        "Straight from one diameter `to` another.", example="{from: 1 in, to: 3/4 in, long: 2 in}"
    )
    bead: ElementKeys | None = _key(
        "Rounded outward to a crest of `diameter`.", example="{diameter: 1 in, from: 3/4 in, long: 1/4 in}"
    )
    cove: ElementKeys | None = _key(
        "Hollowed to a bottom of `diameter`.", example="{from: 1 in, diameter: 5/8 in, to: 3/4 in, long: 1/2 in}"
    )
    ogee: ElementKeys | None = _key(
        "An S-curve from one diameter `to` another.", example="{from: 1/2 in, to: 1 in, long: 3/4 in}"
    )
    ovolo: ElementKeys | None = _key(
        "A quarter-round that swells from one diameter `to` another, level at the larger.",
        example="{from: 3/4 in, to: 1 in, long: 1/4 in}",
    )
    cavetto: ElementKeys | None = _key(
        "A quarter-hollow from one diameter `to` another, level at the smaller.",
        example="{from: 1 in, to: 3/4 in, long: 1/4 in}",
    )
    round: ElementKeys | None = _key(
        "A dome down to the axis at the end; at the start, a dome up `to` a diameter.",
        example="{from: 1 in, long: 1/2 in}",
    )
    vee: ElementKeys | None = _key(
        "A V cut to a bottom of `diameter`.", example="{from: 1 in, diameter: 7/8 in, long: 1/8 in}"
    )

    @model_validator(mode="after")
    def _just_one(self) -> ProfileItem:
        if len(self.model_fields_set) != 1:
            kinds = ", ".join(type(self).model_fields)
            fault("each entry holds exactly one kind of element", f"write - bead: {{…}}; the kinds are {kinds}")
        (kind,) = self.model_fields_set
        if getattr(self, kind) is None:
            fault(f"there is nothing below '{kind}'", f"write what it needs: {kind}: {{long: 1/2 in, …}}")
        return self

    @property
    def only(self) -> tuple[str, ElementKeys]:
        """The kind and its element."""
        (kind,) = self.model_fields_set
        return kind, getattr(self, kind)


class ProfileKeys(Keys):
    """A turned outline along the axis; its values are named like `drop.length`."""

    says: Label | None = _key("What it is; “Profile of the” and its part if not given.", example="Profile of the drop")
    part: AuthorName | None = _key("The part it is turned on; the one whose steps cut it if not given.", example="drop")
    along: Annotated[list[ProfileItem], Field(min_length=1, max_length=60)] = _required(
        "The elements in order along the axis.", "[{cylinder: {diameter: 5/8 in, long: 1/2 in}}]"
    )


class LetInKeys(Keys):
    """A part that a step glues into a hole of this one: a plug, an inlay. It is turned with it from then on."""

    put: AuthorName = _required(
        "The part that is let in; it stands before this one, and needs wood of its own.", "plug"
    )
    tenon: Label = _required("Its round that goes into the hole, by the name its cut or its profile gives it.", "peg")
    hole: Label = _required(
        "The hole, by name; or a cut that makes several, and one of the part goes into each.", "drive holes"
    )
    turn: FormulaField | None = _key(
        "How far it is turned about the tenon, so that its grain lies with the grain around it.", example="90 deg"
    )
    loose: Line | None = _key(
        "Why it may be much thinner than the hole, if it is meant to be.", example="The gap is filled with brass dust."
    )
    tight: Line | None = _key(
        "Why it may be as thick as the hole or a little thicker, if it is driven in.",
        example="It is dried first, and swells in the hole.",
    )


class MinutesKeys(Keys):
    """How many minutes a step takes."""

    likely: Minutes = _required("What it takes, turned in front of people.", "10")
    least: Minutes | None = _key("What if all goes well; 3/4 of `likely` if not given.", example="8")
    most: Minutes | None = _key("What if it goes badly; 3/2 of `likely` if not given.", example="18")
    told: Minutes | None = _key(
        "What it takes to tell it, or to show a piece brought ready-made; 1 if not given.", example="2"
    )
    setup: Minutes | None = _key(
        "Of `likely`, what goes once into setting up, such as stops and a story stick; where several alike are made, "
        "the rest counts for each of them.",
        example="3",
    )


class ShowKeys(Keys):
    """How a demonstration shows a step."""

    as_: Literal["live", "talk", "ready-made"] = _key(
        "Whether it is turned live, only told, or brought ready-made.", example="talk", default="live"
    )
    worth: Annotated[int, *whole(1, 5)] = _key(
        "What it is worth to see it live, from 1 to 5, when a demonstration must be made to fit.",
        example="5",
        default=3,
    )
    camera: Label | None = _key("The camera that shows it best.", example="overhead")
    cue: Prose | None = _key(
        "What to say when it is shown, on the run sheet; if not given, the sentence that does most.",
        example='"Stop at {octagon.setback} and show the line."',
    )


class StepKeys(Keys):
    """One thing done to a part."""

    name: Line = _required("What is done, as a heading.", "Mark the octagon")
    formerly: list[Label] = _key(
        "Names it had before, by which recorded runs and demonstrations still call it.",
        example="[Draw the octagon]",
        default=(),
    )
    say: Prose = _required("How it is done.", "Mark {octagon.setback} in from each end of the ball.")
    work: list[Operation] = _key(
        "What is done, in words the safety rules know. What cuts, hold, marks and tools show need not be said.",
        example="[indexing, drilling across]",
        default=(),
    )
    hold: HoldKeys | None = _key(
        "What holds the part; what held it in the step before, if not given where it is cut, marked or turned.",
        example="{by: [between centers]}",
    )
    cut: Annotated[list[CutItem], Field(max_length=24)] = _key(
        "What is cut, in order, so that the wood can be carried through as a solid.",
        example="[{cylinder: {diameter: 2 in}}]",
        default=(),
    )
    let_in: Annotated[list[LetInKeys], Field(max_length=12)] = _key(
        "Parts that are glued into its holes, such as plugs and inlays, before what it cuts; the finding `inlay sunk`, "
        "`inlay proud` or `thin inlay` says where one is not flush in the end.",
        example="[{put: plug, tenon: peg, hole: drive holes}]",
        default=(),
    )
    mark: Annotated[list[MarkItem], Field(max_length=24)] = _key(
        "Pencil marks on the wood, drawn before it is cut.", example="[{ring: {at: 1 in}}]", default=()
    )
    cut_away: bool = _key("Whether the step's picture is opened up, so that the inside shows.", default=False)
    accept: dict[Accepted, Line] = _key(
        "Findings of the solid that the author accepts, each with the reason, which is printed.",
        example="{thin web: The pins bear along the whole hole.}",
        default={},
    )
    tools: list[Line] = _key(
        "Tools used, each once. Bits for the holes that it drills follow, where none is named; `abrasives` get their "
        "grits from the file's grit sequence, or those that are usual under its finish.",
        example="[pencil, dividers]",
        default=(),
    )
    speed: Speed | None = _key("The lathe speed; what it must not exceed is printed beside it.", example="1200 rpm")
    minutes: Annotated[MinutesKeys | None, Alone("likely", A_MINUTE)] = _key(
        "How long it takes, turned in front of people; it counts in the time to make the piece, however it is shown. A "
        "number is its `likely`.",
        example="{likely: 10, told: 2}",
    )
    wait: Wait | None = _key(
        "How long the work waits after this step, such as for glue to cure or a sealer to dry; counted beside the "
        "minutes, never in a demonstration's time. In an evening the next step on that part is shown on another piece.",
        example="24 h",
    )
    shape: list[ShapeWord] = _key(
        "What in the part's shape matters to fingers and tools at this step.", example="[open work]", default=()
    )
    abrasive: list[Abrasive] = _key(
        "What it is sanded with; `paper` if not given where the tools name abrasives.", example="[paper]", default=()
    )
    adhesive: list[Adhesive] = _key("What it is glued with.", example="[wood glue]", default=())
    finish: list[Finish] = _key("What finish goes on.", example="[tung oil]", default=())
    care: Prose | None = _key(
        "Cautions of the author's own for this step, each a paragraph.", example="Stop the lathe before you measure."
    )
    show: Annotated[ShowKeys | None, Alone("as", {"enum": ["live", "talk", "ready-made"]})] = _key(
        "How a demonstration shows it. One word is its `as`.", example="{as: ready-made, worth: 4, camera: overhead}"
    )
    drawings: list[AuthorName] = _key(
        "Workings or profiles whose drawings belong here; if not given, the profiles that it is the first to cut and "
        "the workings whose numbers it is the first to use.",
        example="[octagon]",
        default=(),
    )


class PartKeys(Keys):
    """One piece of wood."""

    says: Line | None = _key("Its title; “The” and its name if not given.", example="The lantern")
    wood: Label = _required("Wood it is turned from.", "walnut, black")
    grain: Literal["along the axis", "across the axis", "around the axis"] = _key(
        "How the grain lies to the lathe's axis; around it in a ring of segments, if not given.",
        example="along the axis",
        default="along the axis",
    )
    condition: list[Condition] = _key(
        "What state the wood is in. Where it is `green`, it shrinks in the solid in a step whose `work` says that it "
        "dries: by a working of drying among the step's `drawings`, else by the first that is of this wood, else from "
        "30 percent of moisture to 12. It is taken to shrink evenly, as its rings lie in the middle of the blank: with "
        "the grain across the axis along the rings one way across and across them in height, with the grain along the "
        "axis along them one way across and across them the other, and alike all around where the pith runs in it.",
        example="[green]",
        default=(),
    )
    blank: BlankKeys = _required("The stock it is cut from.", "{round: ball, long: ball + 1 in}")
    falls_off: AuthorName | None = _key(
        "The part before it that it falls off when that is parted, such as a lid; it needs no wood of its own.",
        example="box",
    )
    count: FormulaField | None = _key(
        "How many are made, all alike: four legs, six balusters. A mirrored pair is two parts. Its value is named like "
        "`leg.count`; minutes, blank and weight are said of one.",
        example="4",
    )
    per_stick: Annotated[int, *whole(1, 12)] = _key(
        "How many of its blanks are sawn from one length, end to end; the length, with the saw cuts, is named like "
        "`leg.stick`.",
        example="2",
        default=1,
    )
    jig: bool = _key(
        "Whether it is a jig: a jam chuck, a cradle, a gauge. It is made before the evening, and is no part of the "
        "piece, its wood, weight, time or assembly.",
        example="true",
        default=False,
    )
    steps: Annotated[list[StepKeys], Field(min_length=1, max_length=60)] = _required("What is done to it, in order.")


class JointKeys(Keys):
    """A tenon of one part put into a hole of another, or the edge of one, such as a base, let into a groove."""

    put: AuthorName = _required("The part with the tenon, or the one whose edge goes into the groove.", "drop")
    tenon: Label | None = _key(
        "The tenon, by the name its cut or its profile gives it; it goes with `hole`.", example="tenon"
    )
    into: AuthorName = _required("The part with the hole; the first part, or one that is joined already.", "lantern")
    hole: Label | None = _key("The hole, by name.", example="bore")
    groove: Label | None = _key(
        "The stave groove that the whole edge of the part goes into, by name; in place of `tenon` and `hole`.",
        example="base groove",
    )
    far: bool = _key("Whether it goes into the other end of a hole that is right through.", default=False)
    turn: FormulaField | None = _key("How far it is turned about the tenon.", example="90 deg")
    apart: FormulaField | None = _key(
        "How far the two are drawn apart in the finished piece's picture and models, so that the joint and the inside "
        "show; sizes, weight and fit stay those of the closed piece.",
        example="1 in",
    )
    loose: Line | None = _key(
        "Why the tenon may be much thinner than the hole, if it is meant to be.", example="It lifts out to be cleaned."
    )
    tight: Line | None = _key(
        "Why the tenon may be as thick as the hole or a little thicker, if it is pressed or snapped in.",
        example="The lid goes on with a snap.",
    )

    @model_validator(mode="after")
    def _one_way(self) -> JointKeys:
        if self.groove is not None:
            for word in sorted({"tenon", "hole", "far", "tight"} & self.model_fields_set):
                fault(
                    f"a joint in a groove has no '{word}'",
                    "write {put: base, into: tube, groove: base groove}: the whole edge of the part goes into it",
                )
        elif missing := [word for word in ("tenon", "hole") if getattr(self, word) is None]:
            fault(
                f"'{missing[0]}' is missing",
                "write {put: drop, tenon: tenon, into: lantern, hole: bore}, or name the groove that a base goes into",
            )
        return self


class AssemblyKeys(Keys):
    """The finished piece: how its parts go together, and how it is shown."""

    joints: Annotated[list[JointKeys], Field(max_length=24)] = _key(
        "The joints, from the first part outward.",
        example="[{put: drop, tenon: tenon, into: lantern, hole: bore}]",
        default=(),
    )
    up: Literal["left", "right"] | None = _key(
        "The end of the first part that is above when the piece stands or hangs; it lies if not given.",
        example="left",
    )
    hangs: bool = _key("Whether it hangs from the end that is above.", example="true", default=False)
    cut_away: bool = _key("Whether its picture is opened up, so that the inside shows.", default=False)


class PictureKeys(Keys):
    """A photograph beside the project file; one that is named by a step stands at that step."""

    file: Label = _required("Its path in the folder that has the project's name.", "hanging.jpg")
    shows: Line | None = _key(
        "What it shows, for those who cannot see it.", example="The finished lantern on its thread"
    )
    by: Label | None = _key("Who took it, if it is not the maker of the piece.", example="B. Fern")
    license: Label | None = _key("How it may be passed on; as the project if not given.", example="CC BY 4.0")


SAMPLES: dict[Kind, str] = {
    Kind.LENGTH: "2 in", Kind.NUMBER: "6", Kind.SPEED: "800 rpm", Kind.ANGLE: "30 deg", Kind.AREA: "20 in * 1 in",
    Kind.VOLUME: "shape.volume", Kind.MASS: "250 g", Kind.TIME: "4 min", Kind.RIM_SPEED: "300 ft / 1 min",
    Kind.DENSITY: "cherry.density",
}  # fmt: skip
"""How a value of each kind may be written where a chapter is told it."""
_EXAMPLE_WORDS = {"a wood": "cherry, black", "a finish": "oil and varnish blend"}


def _working_model(chapter: Chapter) -> type[Keys]:
    """The keys of one chapter, made from what the chapter must be told."""
    fields: dict[str, Any] = {
        "chapter": (Literal[chapter.name], _required("The chapter of the trade's arithmetic.", chapter.name)),
        "says": (
            Label | None,
            _key("A title of its own; the chapter's if not given.", example=chapter.name.capitalize()),
        ),
    }
    for word in chapter.words:
        says = f"{word.says} ({word.what})."
        kind: Any = Literal[word.choices] if word.choices else Label
        if word.several:
            fields[word.name] = (
                Annotated[list[kind], Field(min_length=1, max_length=40)],
                _required(says, "[P120, P180, P240]"),
            )
        else:
            fields[word.name] = (
                kind | None,
                _key(says, example="" if word.choices else _EXAMPLE_WORDS.get(word.what, "")),
            )
    for given in chapter.givens:
        says = f"{given.says[:1].upper()}{given.says[1:]} ({given.kind.value})."
        if given.optional or given.default:
            if given.default:
                says += f" If not given: {given.default}."
            fields[given.name] = (FormulaField | None, _key(says, example=SAMPLES[given.kind]))
        else:
            fields[given.name] = (FormulaField, _required(says, SAMPLES[given.kind]))
    name = "".join(word.capitalize() for word in chapter.name.replace("-", " ").split())
    return create_model(f"{name}Working", __base__=Keys, __doc__=chapter.about, **fields)


WORKINGS: dict[str, type[Keys]] = {name: _working_model(chapter) for name, chapter in CHAPTERS.items()}
"""One model for each chapter, by the chapter's name."""

if TYPE_CHECKING:

    class WorkingKeys(Keys):
        """What the keys of every working have; those that its chapter asks for are known when the program runs."""

        chapter: str
        says: str | None
else:
    WorkingKeys = Annotated[Union[tuple(WORKINGS.values())], Field(discriminator="chapter")]  # noqa: UP007 (made at run time)


class ErratumKeys(Keys):
    """Something that was wrong on pages and papers, and is put right."""

    date: Day = _required("The day it was put right.", "2026-01-12")
    wrong: Line = _required("What was wrong, and what is right.", "Step 7 said 13/16 in for the tenon; it is 3/4 in.")
    printed: list[Day] = _key(
        "The days of the evenings whose papers say it; if not given, all that were before `date`.",
        example="[2025-09-20]",
        default=(),
    )


class ProjectKeys(Keys):
    """One piece to turn."""

    title: Label = _required("Name of the piece.", "Ribbed lantern")
    by: Label | None = _key("Who made it and shows it; as in the shop file if not given.", example="A. Turner")
    club: Label | None = _key(
        "The club it is shown to; as in the shop file if not given.", example="Fernhollow Turners"
    )
    license: Label | None = _key(
        "How page, papers and drawings may be passed on; as in the shop file if not given.", example="CC BY-SA 4.0"
    )
    credits: list[Label] | None = _key(
        "Who else is to be named, each with what for; as in the shop file if not given.",
        example="[Captive ring after B. Fern]",
    )
    formerly: list[FileName] = _key(
        "Names its file had before, without the ending: their addresses lead to it.",
        example="[fluted-lantern]",
        default=(),
    )
    date: Day | None = _key("The day it was written or shown, of an old write-up.", example="2011-04-02")
    summary: Prose | None = _key(
        "What it is and why one would turn it; if not given, the first paragraph of `text`.",
        example="An ornament with six ribs over a slim drop.",
    )
    text: Annotated[Story | None, Field(validate_default=True)] = _key(
        "What there is to tell of it beside its steps, or all of it where a write-up has words and photographs alone.",
        example="We turned it from a limb that the storm had brought down.",
    )
    errata: Annotated[list[ErratumKeys], Field(max_length=40)] = _key(
        "What was wrong once: it stands on the page, at the evening, on the next printing and in the feed.",
        example="[{date: 2026-01-12, wrong: The bore is 3/8 in deep and not 5/8 in.}]",
        default=(),
    )
    kind: Label | None = _key("Kind of piece, for the archive.", example="ornament")
    piece: list[Piece] = _key(
        "What the finished piece is or is for, in words the safety rules know; those of them that stand in `kind`, if "
        "not given.",
        example="[ornament]",
        default=(),
    )
    audience: list[Audience] = _key(
        "Who is in the room besides the turner.", example="[onlookers]", default=("onlookers",)
    )
    setting: list[Setting] = _key("Where it is shown.", example="[demonstration]", default=("demonstration",))
    level: Literal["first steps", "improver", "experienced"] | None = _key("Whom it suits.", example="improver")
    techniques: list[Label] = _key("What it teaches.", example="[sphere from a cylinder, indexing]", default=())
    measure: Literal["inches", "millimeters", "millimetres"] | None = _key(
        "The unit that leads; the other is always printed beside it. If not given, the one that most of the file's "
        "lengths are written in.",
        example="inches",
    )
    rule: Length = _key(
        "Finest mark on an inch rule at the bench; 1/32 in if not given.", example="1/32 in", default=None
    )
    metric_rule: Length = _key(
        "Finest mark on a millimetre rule at the bench; 0.5 mm if not given.", example="0.5 mm", default=None
    )
    sizes: dict[AuthorName, SizeKeys] = _key("What the maker chooses, by name.", default={})
    dimensions: dict[AuthorName, DimensionKeys] = _key(
        "What follows by the author's own formulas, by name.", default={}
    )
    workings: dict[AuthorName, WorkingKeys] = _key(
        "What follows by the trade's arithmetic; results are named like `octagon.setback`.", default={}
    )
    profiles: dict[AuthorName, ProfileKeys] = _key("Turned outlines, by name.", default={})
    stacks: dict[AuthorName, StackKeys] = _key("Glued-up stacks of segmented rings, by name.", default={})
    laminates: dict[AuthorName, LaminateKeys] = _key("Blocks of boards glued face to face, by name.", default={})
    ready_sizes: dict[AuthorName, ReadySizeKeys] = _key("The same piece at other sizes, by name.", default={})
    keep: list[KeepKeys] = _key("Conditions that must hold whatever size is chosen.", default=())
    parts: dict[AuthorName, PartKeys] = _key(
        "The pieces of wood, by name; a write-up of words and photographs alone has none.", default={}
    )
    assembly: AssemblyKeys | None = _key("The finished piece.", example="{up: left}", default=None)
    supplies: list[Line] = _key(
        "What else is needed, such as thread; the glues and finishes of the steps follow, where none of these is one.",
        example="[medium CA glue]",
        default=(),
    )
    pictures: list[PictureKeys] = _key("Photographs.", default=())
    papers: Papers | None = _key(
        "The papers that are made of it; those of the shop file if not given.", example="[short, full, dimensions]"
    )

    largest: ClassVar[int] = 200
    """Names a project may give in all."""

    @property
    def metric(self) -> bool:
        """Whether millimeters lead."""
        return self.measure in ("millimeters", "millimetres")

    @field_validator("text")
    @classmethod
    def _something_is_said(cls, text: str | None, info: ValidationInfo) -> str | None:
        if text is None and info.data.get("summary", "") is None:
            fault("'summary' is missing", "what it is and why one would turn it; or 'text', of a write-up in words")
        return text
