"""The line that accepts a finding goes to its step, in the form that the step has, with the author's reason."""

from __future__ import annotations

import pytest

from handouts_build.schema import parse_document
from handouts_build.sheet import Acceptance
from handouts_build.site.accepting import with_acceptance

FIRST = Acceptance("thin web", ("parts", "knob", "steps", 0))
BEFORE = "title: Knob\nparts:\n  knob:\n    steps:\n"
AFTER = "      - name: Next\n        say: Next.\n"


@pytest.mark.parametrize(
    ("step", "meant"),
    [
        (
            "      - name: Bore # deep\n        say: Bore it.\n        cut:\n          - bore: {deep: 1 in}\n\n",
            (
                "      - name: Bore # deep\n        say: Bore it.\n        cut:\n          - bore: {deep: 1 in}\n"
                '        accept: {thin web: "It holds: I tried."}\n\n'
            ),
        ),
        (
            "      - name: Bore\n        say: |\n          Bore it.\n\n          Slowly.\n\n",
            (
                "      - name: Bore\n        say: |\n          Bore it.\n\n          Slowly.\n"
                '        accept: {thin web: "It holds: I tried."}\n\n'
            ),
        ),
        (
            "      - {name: Bore, say: Bore it.}\n",
            '      - {name: Bore, say: Bore it., accept: {thin web: "It holds: I tried."}}\n',
        ),
        (
            "      - name: Bore\n        accept: {slender: Steadied.}\n        say: Bore it.\n",
            (
                '      - name: Bore\n        accept: {slender: Steadied., thin web: "It holds: I tried."}\n'
                "        say: Bore it.\n"
            ),
        ),
        (
            "      - name: Bore\n        accept:\n          slender: Steadied.\n        say: Bore it.\n",
            (
                "      - name: Bore\n        accept:\n          slender: Steadied.\n"
                '          thin web: "It holds: I tried."\n'
                "        say: Bore it.\n"
            ),
        ),
        (
            "      - name: Bore\n        cut:\n          - bore: {\n              deep: 1 in\n            }\n",
            (
                "      - name: Bore\n        cut:\n          - bore: {\n              deep: 1 in\n            }\n"
                '        accept: {thin web: "It holds: I tried."}\n'
            ),
        ),
    ],
)
def test_the_line_stands_at_the_step_and_all_else_stays_to_the_letter(step: str, meant: str) -> None:
    made = with_acceptance(BEFORE + step + AFTER, FIRST, "It holds: I tried.")
    assert made == BEFORE + meant + AFTER
    values = parse_document(made, "").values
    assert values["parts"]["knob"]["steps"][0]["accept"]["thin web"] == "It holds: I tried."


@pytest.mark.parametrize(
    ("wanted", "reason"),
    [
        (FIRST, "  "),
        (Acceptance("thin web", ("parts", "ball", "steps", 0)), "why"),
        (Acceptance("x", ("title",)), "why"),
    ],
)
def test_without_a_reason_or_a_step_the_text_is_as_it_was(wanted: Acceptance, reason: str) -> None:
    text = BEFORE + "      - name: Bore\n        say: Bore it.\n"
    assert with_acceptance(text, wanted, reason) == text


def test_what_is_accepted_already_keeps_its_reason() -> None:
    text = BEFORE + "      - {name: Bore, accept: {thin web: Mine.}}\n"
    assert with_acceptance(text, FIRST, "Another.") == text
