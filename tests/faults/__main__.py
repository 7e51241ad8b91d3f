"""`python -m tests.faults`: every command broken off at 200 moments; what was found, as a table for DEVELOPERS.md.

`python -m tests.faults 40 evening pages --fault killed` takes fewer moments, commands and faults.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.faults.commands import COMMANDS, Case, Workshop, moments
from tests.faults.injector import Fault


def main() -> None:
    """Print the table, a row as soon as it is known; a command at which something was lost is told, and has no row."""
    asked = argparse.ArgumentParser(prog="python -m tests.faults")
    asked.add_argument("most", nargs="?", type=int, default=200, help="moments of each command")
    asked.add_argument("names", nargs="*", help="commands, by how their names begin; every one if not given")
    asked.add_argument("--fault", action="append", choices=[fault.value for fault in Fault])
    said = asked.parse_args()
    some = tuple(each for each in COMMANDS if not said.names or each.name.startswith(tuple(said.names)))
    os.environ["SOURCE_DATE_EPOCH"] = "1777636800"
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    finds: list[str] = []
    with tempfile.TemporaryDirectory() as home:
        os.environ["XDG_CACHE_HOME"] = f"{home}/cache"
        print("| command | operations | killed | disk full | Ctrl-C | between, healed |")
        print("| --- | ---: | ---: | ---: | ---: | ---: |")
        faults = [fault for fault in Fault if not said.fault or fault.value in said.fault]
        for command in some:
            try:
                case = Workshop(Path(home)).case(command)
                print(_row(case, faults, said.most), flush=True)
            except AssertionError as find:
                finds.append(f"{command.name}: {find}")
                print(finds[-1], file=sys.stderr, flush=True)
    sys.exit(bool(finds))


def _row(case: Case, faults: list[Fault], most: int) -> str:
    """For each fault how often the earlier stood there whole, and how often the new; then how often neither did."""
    tried = moments(case.operations, most)
    found = {fault: Counter(case.break_off_all(fault, tried)) for fault in faults}
    cells = [f"{found[fault]['earlier']} + {found[fault]['new']}" if fault in found else "" for fault in Fault]
    between = sum(states["aside"] + states["between"] for states in found.values())
    told = " | ".join((case.command.name, f"{len(tried)} of {case.operations}", *cells, str(between)))
    return f"| {told} |"


if __name__ == "__main__":
    main()
