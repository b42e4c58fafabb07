"""What all plants of a garden together may come to, in money, hours of care or number, and how much each plant adds."""

from collections.abc import Mapping
from typing import Literal

import attrs

Measure = Literal["money", "hours", "plants"]


@attrs.frozen(kw_only=True)
class Limit:
    """At most ``most`` for all plants together; ``each`` says how much one plant of a kind adds, by botanical name.

    ``words`` are the client's; ``must``: it has to hold. A kind that is not named adds nothing.
    """

    words: str
    each: tuple[tuple[str, float], ...]
    most: float
    measure: Measure
    must: bool = False

    def amounts(self) -> Mapping[str, float]:
        """Return how much one plant of a kind adds, by botanical name."""
        return dict(self.each)
