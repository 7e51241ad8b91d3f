"""The ribbed lantern of projects/lantern.yml, its ball built by hand as a workpiece."""

from __future__ import annotations

import math
from dataclasses import dataclass

from handouts_build.workpiece import (
    Ball,
    BetweenCenters,
    BetweenHoles,
    Bore,
    Cylinder,
    Dots,
    End,
    Facets,
    Groove,
    HolesAround,
    InHand,
    JawsOnTenon,
    Joint,
    PartOff,
    Piece,
    ProfileCut,
    Reach,
    RingLine,
    Square,
    Stage,
    Stub,
    Tenon,
    WorkStep,
    carry,
)

IN = 25.4


@dataclass(frozen=True, kw_only=True)
class Lantern:
    """The sizes of the project, mm."""

    ball: float = 2.25 * IN
    ribs: int = 6
    bore: float = 0.75 * IN
    groove: float = 5 / 16 * IN
    rib: float = 0.25 * IN
    tenon: float = 7 / 8 * IN
    tenon_long: float = 3 / 8 * IN
    window_bit: float = 0.25 * IN
    drive_bit: float = IN / 8
    start_deg: float = 0.0

    @property
    def floor(self) -> float:
        """From the ball's center to the floor of a groove."""
        return self.ball / 2 - self.groove

    @property
    def groove_wide(self) -> float:
        """So that the ribs come out right, to a 32nd under."""
        exact = 2 * self.floor * math.sin(math.pi / self.ribs - math.asin(self.rib / (2 * self.floor)))
        return math.floor(exact / (IN / 32)) * IN / 32

    @property
    def long(self) -> float:
        """Of the blank."""
        return self.ball + self.tenon_long + IN / 8 + IN / 2

    @property
    def middle(self) -> float:
        """Of the ball, from the blank's left end: its tenon is at the right."""
        return self.long - self.tenon_long - self.ball / 2 - IN / 8

    @property
    def drive_deep(self) -> float:
        """To stop a quarter inch short of the bore."""
        return (self.ball - self.bore) / 2 - IN / 4

    def blank(self) -> Square:
        """The stock."""
        return Square(side_mm=self.ball + IN / 4, long_mm=self.long)

    def steps(self) -> tuple[WorkStep, ...]:
        """As the handout tells them."""
        shape = {"diameter_mm": self.ball, "at_mm": self.middle}
        stubs = {"keep_left_mm": self.tenon, "keep_right_mm": self.tenon}
        half = self.ribs // 2
        pairs = [
            BetweenHoles(first=f"drive hole {one}", second=f"drive hole {one + half}") for one in range(1, half + 1)
        ]
        groove = {"at_mm": 0.0, "wide_mm": self.groove_wide, "floor_mm": self.floor}
        left, right = self.middle - self.ball / 2, self.middle + self.ball / 2
        return (
            WorkStep(
                name="Rough the blank and turn the tenon",
                holds=(BetweenCenters(),),
                cuts=(
                    Cylinder(name="cylinder", diameter_mm=self.ball),
                    Tenon(name="tenon", diameter_mm=self.tenon, long_mm=self.tenon_long, end=End.RIGHT),
                ),
                rpm=1000,
            ),
            WorkStep(
                name="Mark the octagon",
                marks=(RingLine(at_mm=left), RingLine(at_mm=self.middle), RingLine(at_mm=right)),
            ),
            WorkStep(name="Cut the corners", cuts=(Facets(name="8 flats", flats=8, **shape, **stubs),), rpm=1500),
            WorkStep(
                name="Halve and halve again",
                cuts=(
                    Facets(name="16 flats", flats=16, **shape, **stubs),
                    Facets(name="32 flats", flats=32, **shape, **stubs),
                ),
            ),
            WorkStep(name="Round the ball", cuts=(Ball(name="ball", **shape, **stubs),)),
            WorkStep(
                name="Bore along the axis",
                holds=(JawsOnTenon(tenon="tenon"),),
                cuts=(
                    PartOff(name="true the end", at_mm=left, keep=End.RIGHT),
                    Bore(name="bore", diameter_mm=self.bore, end=End.LEFT),
                ),
                rpm=600,
            ),
            WorkStep(
                name="Drill around the equator",
                marks=(Dots(count=2 * self.ribs, at_mm=self.middle, start_deg=self.start_deg),),
                cuts=(
                    HolesAround(
                        name="drive holes",
                        each="drive hole",
                        diameter_mm=self.drive_bit,
                        count=self.ribs,
                        at_mm=self.middle,
                        deep_mm=self.drive_deep,
                        start_deg=self.start_deg,
                    ),
                    HolesAround(
                        name="windows",
                        each="window",
                        diameter_mm=self.window_bit,
                        count=self.ribs,
                        at_mm=self.middle,
                        reach=Reach.AXIS,
                        start_deg=self.start_deg + 180 / self.ribs,
                        meets=("bore",),
                    ),
                ),
            ),
            WorkStep(
                name="Part off the tenon", cuts=(PartOff(name="part off", at_mm=right, keep=End.LEFT, kerf_mm=IN / 8),)
            ),
            WorkStep(
                name="First groove",
                holds=(pairs[0],),
                cuts=(Groove(name="first groove", **groove, meets=("bore", "windows")),),
                rpm=700,
            ),
            WorkStep(
                name="The other grooves",
                holds=tuple(pairs[1:]),
                cuts=(Groove(name="groove", **groove, meets=("bore", "windows", "first groove", "groove")),),
                rpm=700,
            ),
            WorkStep(name="Plug the drive holes", holds=(InHand(),)),
            WorkStep(name="Finish"),
        )

    def stages(self, **options: object) -> tuple[Stage, ...]:
        """Carried out."""
        return carry(self.blank(), self.steps(), **options)  # type: ignore[arg-type]


def drop() -> Stage:
    """A plain drop for it: a tenon, a collar, a cone."""
    points = ((0.0, 9.4), (9.5, 9.4), (9.5, 12.7), (14.0, 12.7), (14.0, 9.0), (80.0, 2.4), (90.0, 2.4))
    steps = (
        WorkStep(
            name="Turn the drop",
            holds=(JawsOnTenon(tenon="stub", tailstock=True),),
            cuts=(
                ProfileCut(name="drop", points_mm=points, stubs=(Stub("spigot", 0.0, 9.5, 18.8, End.LEFT),)),
                PartOff(name="part the drop off", at_mm=90.0, keep=End.LEFT),
            ),
        ),
    )
    stub = WorkStep(
        name="Turn a stub",
        holds=(BetweenCenters(),),
        cuts=(Tenon(name="stub", diameter_mm=24.0, long_mm=20.0, end=End.RIGHT),),
    )
    return carry(Square(side_mm=28.6, long_mm=125.0), (stub, *steps))[-1]


def lantern_with_drop() -> tuple[list[Piece], list[Joint]]:
    """The ball and the drop, to be put together; densities of black walnut and sugar maple at 12 %."""
    pieces = [
        Piece(name="lantern", stage=Lantern().stages()[-1], density_g_mm3=0.55e-3 * 1.12),
        Piece(name="drop", stage=drop(), density_g_mm3=0.63e-3 * 1.12),
    ]
    return pieces, [Joint(piece="drop", tenon="spigot", onto="lantern", hole="bore", far=True)]
