"""`python -m tests.faults`: every command broken off at 200 moments; what was found, as a table for DEVELOPERS.md."""

from __future__ import annotations

import os
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.faults.commands import Workshop, moments
from tests.faults.injector import Fault


def main(most: int) -> None:
    os.environ["SOURCE_DATE_EPOCH"] = "1777636800"
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    with tempfile.TemporaryDirectory() as home:
        os.environ["XDG_CACHE_HOME"] = f"{home}/cache"
        print("| command | fault | operations | earlier whole | new whole | aside, healed | between, healed |")
        print("| --- | --- | ---: | ---: | ---: | ---: | ---: |")
        cases = list(Workshop(Path(home)).cases())
        for fault in Fault:
            for case in cases:
                tried = moments(case.operations, most)
                found = Counter(case.break_off(fault, moment)[1] for moment in tried)
                cells = " | ".join(str(found[state]) for state in ("earlier", "new", "aside", "between"))
                what = f"{case.command.name} | {fault.value} | {len(tried)} of {case.operations}"
                print(f"| {what} | {cells} |", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
