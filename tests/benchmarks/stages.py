"""Where the processor time of publishing a piece goes, with nothing kept: a table for DEVELOPERS.md.

    python -m tests.benchmarks.stages lantern

All is done in one process, so that each stage is told apart. What a stage asks of another counts for the other; time
is of all threads of the process.
"""

from __future__ import annotations

import argparse
import importlib
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable
from pathlib import Path
from typing import Any

from handouts_build.disk.cache import Cache
from handouts_build.disk.workers import one_thread

ROOT = Path(__file__).resolve().parents[2]

STAGES = {
    "handouts_build.compute.compute": "worked out: values, solids, findings",
    "handouts_build.site.picturing.stage_shots": "pictures of steps",
    "handouts_build.site.picturing.whole_shot": "picture of the finished piece",
    "handouts_build.site.picturing.viewer": "the piece to turn about",
    "handouts_build.site.picturing.models": "models to download",
    "handouts_build.figures.draw": "drawings, the general arrangement among them",
    "handouts_build.outputs.papers.render.measured": "papers measured",
    "handouts_build.outputs.papers.render.compiled": "papers set",
    "handouts_build.outputs.papers.render.papers": "papers filled",
    "handouts_build.outputs.pages.render.project_pages": "pages of the piece",
    "handouts_build.site.publish._own": "reference, schemas, scripts",
    "handouts_build.site.publish._shared": "pages that lead to it",
}
"""What is measured, each a function by its full name."""


class Stopwatch:
    """Processor time by stage: that of a stage within another is taken off the outer one."""

    def __init__(self) -> None:
        self.spent: defaultdict[str, float] = defaultdict(float)
        self.times: Counter[str] = Counter()
        self._inner: list[float] = []

    def timed(self, stage: str, work: Callable[..., Any]) -> Callable[..., Any]:
        """The same function, its time taken.

        Args:
            stage: What it counts for.
            work: The function.
        """

        def doing(*arguments: Any, **named: Any) -> Any:
            start = time.process_time()
            self._inner.append(0.0)
            try:
                return work(*arguments, **named)
            finally:
                whole = time.process_time() - start
                self.spent[stage] += whole - self._inner.pop()
                self.times[stage] += 1
                if self._inner:
                    self._inner[-1] += whole

        return doing


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("piece", help="one of the demo archive")
    path = ROOT / "projects" / f"{asked.parse_args().piece}.yml"
    one_thread()
    from handouts_build.outputs.output import NOWHERE
    from handouts_build.site.publish import publish

    watch = Stopwatch()
    for name, stage in STAGES.items():
        home, _, own = name.rpartition(".")
        module = importlib.import_module(home)
        setattr(module, own, watch.timed(stage, getattr(module, own)))
    loaded = time.process_time()
    with tempfile.TemporaryDirectory() as kept:
        publish([path], base=ROOT, cache=Cache(Path(kept)), address=NOWHERE, jobs=0)
    whole = time.process_time()
    watch.spent |= {"modules loaded": loaded, "all else": whole - loaded - sum(watch.spent.values())}
    print("| stage | times | seconds |\n| --- | ---: | ---: |")
    for stage, seconds in sorted(watch.spent.items(), key=lambda row: -row[1]):
        print(f"| {stage} | {watch.times[stage] or ''} | {seconds:.1f} |")
    print(f"| in all | | {whole:.1f} |")


if __name__ == "__main__":
    main()
