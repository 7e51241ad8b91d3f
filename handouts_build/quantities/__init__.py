"""Numbers with units: made, read, rounded and printed.

The rest of the library knows quantities through this package alone.
"""

from handouts_build.quantities.lengths import MEASURE, NUMBER, QuantityFault, read_number, read_quantity
from handouts_build.quantities.printing import (
    Manner,
    Printed,
    Rule,
    decimal,
    exact,
    numbers_told,
    print_as,
    print_exact,
    print_quantity,
    shop_fraction,
)
from handouts_build.quantities.registry import (
    UNITS,
    Kind,
    Quantity,
    count,
    degrees,
    inches,
    kind_of,
    millimetres,
    of_kind,
    quantity,
)
from handouts_build.quantities.rounding import Err, to_mark

__all__ = [
    "MEASURE",
    "NUMBER",
    "UNITS",
    "Err",
    "Kind",
    "Manner",
    "Printed",
    "Quantity",
    "QuantityFault",
    "Rule",
    "count",
    "decimal",
    "degrees",
    "exact",
    "inches",
    "kind_of",
    "millimetres",
    "numbers_told",
    "of_kind",
    "print_as",
    "print_exact",
    "print_quantity",
    "quantity",
    "read_number",
    "read_quantity",
    "shop_fraction",
    "to_mark",
]
