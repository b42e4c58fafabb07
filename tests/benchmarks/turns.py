"""Works timed turn about in one run: a ratio of two of them says the same on a quick machine and on a slow one."""

import time
from collections.abc import Callable, Sequence

ROWS: list[tuple[str, str, str]] = []  # of the table at the end: what was measured, its figure, what is wanted
PATIENCE = 15  # times as many turns at most, while what was measured so far says that a bound is not kept


def least(
    *works: Callable[[], object],
    rounds: int,
    warm: bool = False,
    kept: Callable[[Sequence[float]], bool] = lambda _: True,
) -> list[float]:
    """Return the least seconds of each work, taken turn about ``rounds`` times, after one turn to ``warm`` up.

    A busy machine adds to some turns and takes from none, so that the least of more turns is nearer to the truth:
    while ``kept`` says of the least times that a bound is not kept there are more, up to PATIENCE times as many.
    """
    if warm:
        for work in works:
            work()
    best = [float("inf")] * len(works)
    for done in range(PATIENCE * rounds):
        if done >= rounds and kept(best):
            break
        for i, work in enumerate(works):
            begun = time.perf_counter()
            work()
            best[i] = min(best[i], time.perf_counter() - begun)
    return best


def told(matter: str, figure: str, wanted: str) -> None:
    """Say what was measured, now and in the table at the end of the run."""
    ROWS.append((matter, figure, wanted))
    print(f"\n{matter}: {figure} (wanted {wanted})")
