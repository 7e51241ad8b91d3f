"""The words in which a written quantity is refused, to an author and in the page alike.

This module owns the wording. What is refused is decided by whoever reads, and by the
page's script, which gets these words as data.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["LONGEST", "LONGEST_MM", "REFUSALS", "Refusal"]

LONGEST = 40
"""Characters a number with its unit may have."""

LONGEST_MM = 20_000
"""The longest length, in mm. No lathe takes more; and drawings at full size have to end somewhere."""


@dataclass(frozen=True)
class Refusal:
    """What is wrong and what would be right; a name in curly brackets stands for what is put in there."""

    message: str
    hint: str = ""

    def filled(self, **values: str) -> tuple[str, str]:
        """Message and hint with the values put in.

        Args:
            values: A text for each name in curly brackets.
        """
        return self.message.format(**values), self.hint.format(**values)


REFUSALS = {
    "characters": Refusal(
        f"this number is {{long}} characters long; at most {LONGEST} are read",
        "round it: a millionth of an inch is finer than wood holds",
    ),
    "unread": Refusal(
        "'{text}' is not a number with a unit",
        "write it as 2 1/4 in, 2.25 in, 3/8 in, 57 mm, 22.5 deg, 4 min or 1200 rpm",
    ),
    "comma": Refusal("'{text}' is not a number with a unit", "write the decimal with a point: {right}"),
    "two": Refusal(
        "'{text}' is not a number with a unit",
        "one number is due here, not two; a formula multiplies with *, such as 2 * 3 in",
    ),
    "spelt": Refusal("'{text}' is not a number with a unit", "write {right}"),
    "divided": Refusal("'{text}' divides by nought", "the lower number of a fraction is 2, 4, 8, 16 …"),
    "fraction": Refusal("'{text}' has no unit", "write {text} in; a plain number is whole or has a point: {number}"),
    "bare": Refusal("'{text}' has no unit", "write {right}"),
    "kind": Refusal("'{text}' is not a {kind}", "write {right}"),
    "nought": Refusal("{what} must be more than nought"),
    "length": Refusal("{what} is {length}", "a length must be more than nought"),
    "long": Refusal(f"{{what}} is longer than {LONGEST_MM / 1000:g} m", "is its unit right?"),
    "bounds": Refusal("{what} is outside its own bounds: {bound} is {limit}"),
    "choices": Refusal("{what} is not one of its own choices"),
}
"""Every refusal of a quantity, by the name it is asked for."""
