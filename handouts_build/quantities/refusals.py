"""The words in which a written quantity is refused, to an author and in the page alike.

This module owns the wording. What is refused is decided by whoever reads, and by the
page's script, which gets these words as data.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.language import tr, tr_later

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
    most: str = ""
    """The limit that stands for `{most}`, where they say one."""

    def filled(self, **values: str) -> tuple[str, str]:
        """Message and hint with the values put in.

        Args:
            values: A text for each name in curly brackets.
        """
        return self.message.format(most=self.most, **values), self.hint.format(most=self.most, **values)

    @property
    def said(self) -> tuple[str, str]:
        """Message and hint in the language that is spoken, with the limit put in and nothing else."""
        message, hint = (tr(text).replace("{most}", self.most) if text else "" for text in (self.message, self.hint))
        return message, hint


REFUSALS = {
    "characters": Refusal(
        tr_later("this number is {long} characters long; at most {most} are read"),
        tr_later("round it: a millionth of an inch is finer than wood holds"),
        f"{LONGEST}",
    ),
    "unread": Refusal(
        tr_later("'{text}' is not a number with a unit"),
        tr_later("write it as 2 1/4 in, 2.25 in, 3/8 in, 57 mm, 22.5 deg, 4 min or 1200 rpm"),
    ),
    "comma": Refusal(
        tr_later("'{text}' is not a number with a unit"), tr_later("write the decimal with a point: {right}")
    ),
    "two": Refusal(
        tr_later("'{text}' is not a number with a unit"),
        tr_later("one number is due here, not two; a formula multiplies with *, such as 2 * 3 in"),
    ),
    "spelt": Refusal(tr_later("'{text}' is not a number with a unit"), tr_later("write {right}")),
    "divided": Refusal(
        tr_later("'{text}' divides by nought"), tr_later("the lower number of a fraction is 2, 4, 8, 16 …")
    ),
    "fraction": Refusal(
        tr_later("'{text}' has no unit"),
        tr_later("write {text} in; a plain number is whole or has a point: {number}"),
    ),
    "bare": Refusal(tr_later("'{text}' has no unit"), tr_later("write {right}")),
    "kind": Refusal(tr_later("'{text}' is not a {kind}"), tr_later("write {right}")),
    "nought": Refusal(tr_later("{what} must be more than nought")),
    "length": Refusal(tr_later("{what} is {length}"), tr_later("a length must be more than nought")),
    "long": Refusal(
        tr_later("{what} is longer than {most}"), tr_later("is its unit right?"), f"{LONGEST_MM / 1000:g} m"
    ),
    "bounds": Refusal(tr_later("{what} is outside its own bounds: {bound} is {limit}")),
    "choices": Refusal(tr_later("{what} is not one of its own choices")),
}
"""Every refusal of a quantity, by the name it is asked for."""
