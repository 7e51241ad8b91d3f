"""From the text of a formula to its tree.

This module owns the grammar and its bounds. It never evaluates, and no author
text ever reaches Python's own parser. What a tree means is for `evaluate`.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any, cast

from lark import Lark, Token, Transformer, UnexpectedInput, v_args

from handouts_build.formulas.tree import FUNCTIONS, POWERS, Binary, Call, FormulaFault, Name, Negative, Node, Number
from handouts_build.problems import near_miss
from handouts_build.quantities import MEASURE, NUMBER, UNITS, QuantityFault, count, quantity, read_number

__all__ = ["DEEPEST", "LONGEST", "NAME", "parse"]

LONGEST = 300
"""Characters a formula may have."""
DEEPEST = 20
"""How deep brackets may be nested."""

NAME = r"[a-z][a-z0-9_]*(?:\.[a-z][a-z0-9_]*)*"
"""Regular expression of a name, dotted for a part of something."""


# A plain number may be mixed (2 1/2) but not a bare fraction: in a / 2 / 3 the
# second slash divides again. With a unit behind it, 2/3 in is one measure.
_PLAIN = NUMBER.replace("|[0-9]+/[0-9]+|", "|")


def _slashed(pattern: str) -> str:
    """A regular expression as Lark wants it between slashes."""
    return pattern.replace("/", r"\/")


_GRAMMAR = rf"""
?start: comparison
?comparison: sum
    | sum COMPARE sum           -> binary
?sum: product
    | sum PLUS product          -> binary
    | sum MINUS product         -> binary
?product: signed
    | product TIMES signed      -> binary
    | product OVER signed       -> binary
?signed: power
    | MINUS signed              -> negative
?power: atom
    | atom POWER                -> power
?atom: MEASURE                  -> measure
    | NUMBER                    -> number
    | FUNCTION "(" [sum ("," sum)*] ")" -> call
    | NAME                      -> name
    | "(" sum ")"

COMPARE: "<=" | ">=" | "<" | ">"
PLUS: "+"
MINUS: "-" | "−"
TIMES: "*" | "×"
OVER: "/" | "÷"
POWER: /\^[ ]*[0-9]+/
FUNCTION.3: /(?:{"|".join(sorted(FUNCTIONS))})(?=[ ]*\()/
MEASURE.2: /{_slashed(MEASURE)}/
NUMBER.1: /{_slashed(_PLAIN)}/
NAME: /{NAME}/
%ignore /[ \u00a0\t\n]+/
"""


def parse(text: str) -> Node:
    """The tree of a formula.

    Args:
        text: Such as `ball / 2 - 1/64 in` or `2 * floor * sin(180 deg / ribs)`.

    Raises:
        FormulaFault: If it is not a formula, or is longer or deeper than the bounds.
    """
    if len(text) > LONGEST:
        raise FormulaFault(
            f"this formula is {len(text):,} characters long; at most {LONGEST} are read",
            "name the parts as dimensions of their own",
        )
    _check_depth(text)
    return _parse(text)


def parse_joined(text: str) -> Node:
    """The tree of a formula that we put together of some that `parse` has read: whoever does that bounds their number.

    Args:
        text: Such as `(ring) + 2 * (top)`; it may be longer, and deeper, than an author's own.
    """
    return _parse(text)


@lru_cache(maxsize=4096)
def _parse(text: str) -> Node:
    try:
        # Nodes are made as the parser goes, so the type is ours and not Lark's tree.
        tree: Any = _parser().parse(text)
    except UnexpectedInput as error:
        raise _explained(text, error) from None
    return cast("Node", tree)


@lru_cache(maxsize=1)
def _parser() -> Lark:
    # The transformer goes with the parser: a tree built first and walked later is walked by recursion.
    return Lark(_GRAMMAR, parser="lalr", maybe_placeholders=False, propagate_positions=False, transformer=_ToTree())


def _check_depth(text: str) -> None:
    """Refuse deep nesting before the parser sees it."""
    depth = 0
    for offset, sign in enumerate(text):
        depth += (sign == "(") - (sign == ")")
        if depth > DEEPEST:
            raise FormulaFault(f"brackets are nested more than {DEEPEST} deep", "name the inner parts", offset)


def _explained(text: str, error: UnexpectedInput) -> FormulaFault:
    """A parser's complaint in the author's words."""
    offset = getattr(error, "pos_in_stream", None)
    ended = getattr(getattr(error, "token", None), "type", "") == "$END"
    if ended or offset is None or not 0 <= offset < len(text):
        return FormulaFault("the formula stops too soon", "something should follow", max(0, len(text) - 1))
    rest = text[offset:]
    if rest.startswith("*") and offset and text[offset - 1] == "*":
        return FormulaFault("'**' is not known here", "write a power as x^2", offset - 1)
    if rest.startswith("="):
        return FormulaFault(
            "'=' is not known here", "a formula only says what the value is; compare with <=, >=, <, >", offset
        )
    comma = re.match(r",\d", rest)
    if comma and offset and text[offset - 1].isdigit():
        return FormulaFault("a decimal comma cannot be read", "write the decimal with a point", offset)
    if rest.startswith("("):
        called = re.search(r"[A-Za-z_.]+[ ]*$", text[:offset])
        if called:
            return FormulaFault(
                f"'{called.group().strip()}' is not a function",
                near_miss(called.group().strip(), FUNCTIONS),
                called.start(),
            )
    if re.match(r"\^[ ]*[0-9]", rest):
        return FormulaFault("a power cannot be raised again like this", "put brackets around it: (x^2)^3", offset)
    if rest.startswith("^"):
        return FormulaFault("only a whole number can be a power", "write x^2; powers go from 2 to 6", offset)
    word = re.match(r"[^\s()+\-*/^,<>]+", rest)
    shown = word.group() if word else rest[0]
    if re.fullmatch(NAME, shown.lower()) and shown != shown.lower():
        return FormulaFault(
            f"'{shown[:30]}' does not fit here", f"names are written small: {shown[:30].lower()}", offset
        )
    before = re.search(rf"({NAME})[ ]+$", text[:offset])
    if shown in ("x", "×") and re.match(r"[x×][ ]*[0-9a-z(]", rest):
        return FormulaFault(f"'{shown}' does not multiply", "write *, such as 2 * 3 in", offset)
    if before and re.fullmatch(NAME, shown) and before.group(1) not in UNITS:
        both = f"{before.group(1)} {shown}"
        hint = f"is '{both[:60]}' one name? then write {both[:60].replace(' ', '_')}"
        return FormulaFault(f"'{shown[:30]}' does not fit here", hint, offset)
    hint = "use names, numbers with units, + - * / ^, brackets and " + ", ".join(sorted(FUNCTIONS))
    return FormulaFault(f"'{shown[:30]}' does not fit here", hint, offset)


@v_args(inline=True)
class _ToTree(Transformer[Token, Node]):
    """Lark's parse to our own frozen nodes."""

    def measure(self, token: Token) -> Node:
        text = str(token)
        unit = next(u for u in sorted(UNITS, key=len, reverse=True) if text.endswith(u))
        return self._number(text[: -len(unit)], unit, token)

    def number(self, token: Token) -> Node:
        return self._number(str(token), "", token)

    @staticmethod
    def _number(text: str, unit: str, token: Token) -> Node:
        try:
            value = read_number(text)
        except QuantityFault as fault:
            raise FormulaFault(fault.message, fault.hint, token.start_pos or 0) from None
        return Number(token.start_pos or 0, quantity(value, unit), str(token).strip())

    def name(self, token: Token) -> Node:
        return Name(token.start_pos or 0, str(token))

    def negative(self, sign: Token, of: Node) -> Node:
        return Negative(sign.start_pos or 0, of)

    def binary(self, left: Node, sign: Token, right: Node) -> Node:
        op = {"−": "-", "×": "*", "÷": "/"}.get(str(sign), str(sign))
        return Binary(sign.start_pos or 0, op, left, right)

    def power(self, base: Node, sign: Token) -> Node:
        exponent, at = str(sign)[1:].strip(), sign.start_pos or 0
        if exponent not in POWERS:
            raise FormulaFault(f"a power of {exponent[:20]} is not known here", "powers go from 2 to 6", at)
        return Binary(at, "^", base, Number(at + len(sign) - 1, count(float(exponent)), exponent))

    def call(self, function: Token, *arguments: Any) -> Node:
        least, most = FUNCTIONS[str(function)]
        if not least <= len(arguments) <= most:
            wanted = str(least) if least == most else f"{least} to {most}"
            raise FormulaFault(
                f"{function} takes {wanted} value{'s' if most > 1 else ''}, not {len(arguments)}",
                "",
                function.start_pos or 0,
            )
        return Call(function.start_pos or 0, str(function), tuple(arguments))
