"""Every strategy of the property tests, in one place; those of the trade's chapters are beside them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from hypothesis import strategies as st

INCH_STEPS = tuple(Fraction(1, 2**power) for power in range(1, 8))
"""The marks on inch rules: halves to 128ths."""
MM_STEPS = (Fraction(1), Fraction(1, 2), Fraction(1, 5), Fraction(1, 10))
"""The marks on millimetre rules."""


def shop_fractions(most: int = 48) -> st.SearchStrategy[Fraction]:
    """Lengths in inches that lie on a rule's mark."""
    return st.builds(
        lambda step, marks: step * (marks % int(most / step) + 1), st.sampled_from(INCH_STEPS), st.integers(0, 10**6)
    )


def millimetres_exact(most: int = 1200) -> st.SearchStrategy[Fraction]:
    """Lengths in millimetres with up to two decimals."""
    return st.integers(1, most * 100).map(lambda hundredths: Fraction(hundredths, 100))


def lengths_mm() -> st.SearchStrategy[float]:
    """Any length that wood has, mm."""
    return st.floats(0.01, 5000, allow_nan=False)


@dataclass(frozen=True)
class Sum:
    """A formula as text, with its value worked out beside it by other means."""

    text: str
    value: Fraction
    """In units of 1 or millimetres."""
    power: int
    """0 for a plain number, 1 for a length, 2 for an area."""


_INCH = Fraction(127, 5)


def _numbers() -> st.SearchStrategy[Sum]:
    whole = st.integers(1, 99).map(lambda n: Sum(str(n), Fraction(n), 0))
    decimal = st.integers(1, 9999).map(lambda n: Sum(f"{n // 100}.{n % 100:02d}", Fraction(n, 100), 0))
    return whole | decimal


def _measures() -> st.SearchStrategy[Sum]:
    inches = st.tuples(st.integers(0, 12), st.integers(1, 15)).map(
        lambda pair: Sum(f"{pair[0]} {pair[1]}/16 in", (pair[0] + Fraction(pair[1], 16)) * _INCH, 1)
    )
    mm = st.integers(1, 500).map(lambda n: Sum(f"{n} mm", Fraction(n), 1))
    cm = st.integers(1, 50).map(lambda n: Sum(f"{n}cm", Fraction(10 * n), 1))
    return inches | mm | cm


NAMES = {"ball": (Fraction(9, 4) * _INCH, 1), "ribs": (Fraction(6), 0), "drop.neck": (Fraction(19, 4), 1)}
"""Names that formulas may use: value in mm or 1, and power of length."""


def _named() -> st.SearchStrategy[Sum]:
    return st.sampled_from([Sum(name, *what) for name, what in NAMES.items()])


def _join(make: Callable[[Sum, Sum], Sum | None]) -> Callable[[tuple[Sum, Sum]], Sum]:
    def joined(pair: tuple[Sum, Sum]) -> Sum:
        return make(*pair) or pair[0]

    return joined


def _plus(left: Sum, right: Sum) -> Sum | None:
    if left.power != right.power:
        return None
    return Sum(f"{left.text} + ({right.text})", left.value + right.value, left.power)


def _minus(left: Sum, right: Sum) -> Sum | None:
    if left.power != right.power:
        return None
    return Sum(f"({left.text}) - ({right.text})", left.value - right.value, left.power)


def _times(left: Sum, right: Sum) -> Sum | None:
    if left.power + right.power > 2:
        return None
    return Sum(f"({left.text}) * ({right.text})", left.value * right.value, left.power + right.power)


def _over(left: Sum, right: Sum) -> Sum | None:
    if left.power < right.power or abs(right.value) < Fraction(1, 1000):
        return None
    return Sum(f"({left.text}) / ({right.text})", left.value / right.value, left.power - right.power)


def sums() -> st.SearchStrategy[Sum]:
    """Formulas of numbers, measures, names and the four signs, of sane size and depth."""
    leaves = _numbers() | _measures() | _named()

    def grow(inner: st.SearchStrategy[Sum]) -> st.SearchStrategy[Sum]:
        two = st.tuples(inner, inner)
        negative = inner.map(lambda one: Sum(f"-({one.text})", -one.value, one.power))
        square = inner.filter(lambda one: one.power <= 1).map(
            lambda one: Sum(f"({one.text})^2", one.value**2, 2 * one.power)
        )
        return st.one_of(*(two.map(_join(make)) for make in (_plus, _minus, _times, _over)), negative, square)

    return st.recursive(leaves, grow, max_leaves=8).filter(
        lambda one: len(one.text) <= 280 and 0 < abs(one.value) < 10**12
    )


def mixtures() -> st.SearchStrategy[str]:
    """Formulas of numbers, lengths and the four signs, whether or not their units go together."""
    leaves = (_numbers() | _measures() | _named()).map(lambda one: one.text)

    def grow(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
        joined = st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda three: "({}) {} ({})".format(*three))
        return joined | inner.map(lambda one: f"-({one})") | inner.map(lambda one: f"({one})^2")

    return st.recursive(leaves, grow, max_leaves=5).filter(lambda text: len(text) <= 280)


def yaml_like() -> st.SearchStrategy[str]:
    """Text made of what YAML is made of, and of what it is not."""
    pieces = st.sampled_from(
        ["title: ", "sizes:\n", "  ball: ", "{is: 2 in, says: It}", "- ", "[", "]", "{", "}", "|\n", ">-\n", "&a ",
         "*a", "!!str ", "'", '"', "\t", "\n", "\n  ", "\n    ", ": ", ", ", "# ", "---\n", "...\n", "%YAML 1.2\n",
         "? ", "<<: ", "1 1/2 in", "½", "-3", "1e9", "0x1F", "{ball}", "{{", "ball / 2", "((((", "9^6^6", "~", "null",
         "true", "\ufeff", "\u2028", "é", "𝄞", "\x85", "parts:\n", "workings:\n", "chapter: fit", "keep:\n",
         "rule: 1/3 in\n"]
    )  # fmt: skip
    return st.lists(pieces | st.text(max_size=4), max_size=40).map("".join)
