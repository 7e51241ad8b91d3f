"""The formula language: text to tree, tree to value, words and JSON."""

from handouts_build.formulas.evaluate import holds, value_of
from handouts_build.formulas.grammar import DEEPEST, LONGEST, NAME, parse, parse_joined
from handouts_build.formulas.linear import sum_of_names
from handouts_build.formulas.numbers import Numbers, function_of
from handouts_build.formulas.tree import (
    ALIKE,
    BINDS,
    CALLED,
    FAULTS,
    FUNCTIONS,
    MOST_EXPONENT,
    POWERS,
    SIGNS,
    WHOLE_STEPS,
    FormulaFault,
    Name,
    Node,
    Number,
    Sum,
    UnitFault,
    names,
    to_json,
    to_text,
)

__all__ = [
    "ALIKE",
    "BINDS",
    "CALLED",
    "DEEPEST",
    "FAULTS",
    "FUNCTIONS",
    "LONGEST",
    "MOST_EXPONENT",
    "NAME",
    "POWERS",
    "SIGNS",
    "WHOLE_STEPS",
    "FormulaFault",
    "Name",
    "Node",
    "Number",
    "Numbers",
    "Sum",
    "UnitFault",
    "function_of",
    "holds",
    "names",
    "parse",
    "parse_joined",
    "sum_of_names",
    "to_json",
    "to_text",
    "value_of",
]
