"""The library against the second judge, over many pieces: what it missed, and what it found that is not so.

    python -m tests.benchmarks.oracle --pieces 3000 --seed 1 [--fitted | --moved] [--out FOLDER]

prints counts of each kind with the seed and the sizes; with a folder, each piece on which the two differ is left
there, and what they differ on.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.oracle.compare import Compared, compared
from tests.oracle.generate import ACROSS, Keys, piece
from tests.oracle.generate_fitted import fitted_piece
from tests.oracle.generate_moved import moved_piece
from tests.oracle.library import written

_MOST_SHOWN = 12


def one(seed: int, number: int, voxels: int, steps: int, cuts: int, make: Callable[..., Keys]) -> tuple[int, Compared]:
    """One piece under both judges."""
    made = make(seed, number, steps=steps, cuts=cuts)
    with TemporaryDirectory() as folder:
        return number, compared(made, Path(folder), voxels=voxels)


def main() -> None:
    """Count and print."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--pieces", type=int, default=3000)
    asked.add_argument("--first", type=int, default=0)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--voxels", type=int, default=32, help="across the largest round that a blank holds")
    asked.add_argument("--steps", type=int, default=2, help="in a piece, at the most")
    asked.add_argument("--cuts", type=int, default=2, help="in a step, at the most")
    asked.add_argument("--workers", type=int, default=1)
    asked.add_argument("--fitted", action="store_true", help="logs, stacks, threads, rings and the like")
    asked.add_argument("--moved", action="store_true", help="wood that dries, a lid on its box, a chuck off the axis")
    asked.add_argument("--out", type=Path)
    said = asked.parse_args()
    make = moved_piece if said.moved else fitted_piece if said.fitted else piece
    begun, missed, false, must = time.perf_counter(), Counter[str](), Counter[str](), Counter[str]()
    refused, unknown, shown = Counter[str](), Counter[str](), 0
    numbers = range(said.first, said.first + said.pieces)
    wrong = counted = 0
    with ProcessPoolExecutor(said.workers) as pool:
        for number, found in pool.map(
            partial(one, voxels=said.voxels, steps=said.steps, cuts=said.cuts, make=make),
            [said.seed] * len(numbers), numbers, chunksize=8,
        ):  # fmt: skip
            refused.update([found.refused[:70]] if found.refused else [])
            unknown.update(found.unknown)
            must.update(found.asked)
            missed.update(difference.kind for difference in found.differences if difference.missed)
            false.update(difference.kind for difference in found.differences if not difference.missed)
            wrong += any(not difference.missed for difference in found.differences)
            counted += 1
            if counted % 250 == 0:
                print(f"after {counted}: missed {dict(missed)}, false {dict(false)}", flush=True)
            if found.differences and shown < _MOST_SHOWN:
                shown += 1
                print(f"piece {number}:", *found.differences, sep="\n  ")
            if found.differences and said.out:
                said.out.mkdir(parents=True, exist_ok=True)
                head = "".join(f"# {difference}\n" for difference in found.differences)
                (said.out / f"piece-{said.seed}-{number}.yml").write_text(
                    head + written(make(said.seed, number, steps=said.steps, cuts=said.cuts))
                )
    judged = said.pieces - sum(refused.values())
    print(f"\nseed {said.seed}, pieces {numbers[0]} to {numbers[-1]}, {judged} judged by both, {said.voxels} voxels "
          f"across blanks of {', '.join(f'{across:g}' for across in ACROSS)} mm, "
          f"{time.perf_counter() - begun:.0f} s")  # fmt: skip
    print(f"{'kind':28}{'to be found':>12}{'missed':>8}{'false':>8}")
    for kind in sorted({*must, *missed, *false}):
        print(f"{kind:28}{must[kind]:12}{missed[kind]:8}{false[kind]:8}")
    print(f"pieces with a false finding: {wrong}, one in {judged / wrong if wrong else float('inf'):.0f}")
    for what, counts in (("not worked out", refused), ("words not known", unknown)):
        for text, count in counts.most_common(_MOST_SHOWN):
            print(f"{what}: {count} × {text}")


if __name__ == "__main__":
    main()
