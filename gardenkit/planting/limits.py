"""What all plants of a garden together may come to, in money, hours of care or number, and how much each plant adds."""

from collections.abc import Mapping
from typing import Literal

import attrs

from gardenkit.geometry.plane import Region

Measure = Literal["money", "hours", "plants", "kinds"]


@attrs.frozen(eq=False, kw_only=True)
class Limit:
    """At most ``most`` for all plants together; ``each`` says how much one plant of a kind adds, by botanical name (of
    the measure "kinds": the kind, however many there are of it).

    ``words`` are the client's; ``must``: it has to hold. A kind that is not named adds nothing. With a ``ground`` only
    the plants that stand on it count, which is the ``share`` of all bed ground.
    """

    words: str
    each: tuple[tuple[str, float], ...]
    most: float
    measure: Measure
    must: bool = False
    ground: Region | None = None
    share: float = 1.0

    def amounts(self) -> Mapping[str, float]:
        """Return how much one plant of a kind adds, by botanical name."""
        return dict(self.each)

    @property
    def bars(self) -> frozenset[str]:
        """The kinds of which it allows none at all, such as those too thirsty for the water that there is."""
        none = self.measure in ("plants", "kinds") and self.most <= 0
        return frozenset(name for name, amount in self.each if amount > 0) if none else frozenset()
