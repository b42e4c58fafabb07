"""What the client wants, all together: pictures and style, the wants list, the budget and what they refuse."""

import attrs

from gardenkit.brief.asking import ruled_out_by
from gardenkit.brief.pricing import Covers, Pricing
from gardenkit.brief.style import Picture, Style
from gardenkit.brief.wants import Want
from gardenkit.tuples import lists_as_tuples

RULED_OUT = {"toxic_to_dogs": "toxic to dogs", "toxic_to_people": "toxic to people"}  # a must of none of these


@attrs.frozen(kw_only=True, field_transformer=lists_as_tuples, cache_hash=True)
class Brief:
    """The brief. ``budget`` is in the client's currency and covers what ``budget_covers`` says; ``refuses`` holds
    caution words no plant may carry.
    """

    pictures: tuple[Picture, ...] = ()
    style: Style = Style()
    wants: tuple[Want, ...] = ()
    budget: float | None = None
    budget_covers: Covers = "plants and materials"
    currency: str = "$"
    refuses: tuple[str, ...] = ()
    pricing: Pricing = Pricing()

    @property
    def refused(self) -> tuple[str, ...]:
        """All that no plant may carry anywhere: what the client refuses, and what a must for the whole property rules
        out.
        """
        return tuple(dict.fromkeys((*self.refuses, *self.ruled_out_in(""))))

    @property
    def areas_refusing(self) -> tuple[str, ...]:
        """The areas of the property of which a must rules some plants out, for these alone."""
        asking = dict.fromkeys(want.area for want in self.wants if want.area)
        return tuple(area for area in asking if self.ruled_out_in(area))

    def ruled_out_in(self, area: str) -> tuple[str, ...]:
        """Return what the musts for one area of the property (empty: for all of it) rule out."""
        musts = [want for want in self.wants if want.weight == "must" and want.area == area]
        asked = [word for want in musts if want.asks is not None for word in ruled_out_by(want.asks)]
        checked = [
            RULED_OUT[want.check.fact]
            for want in musts
            if want.check is not None
            and want.check.fact in RULED_OUT
            and want.check.compare != "at least"
            and want.check.amount < 1
        ]
        return tuple(dict.fromkeys((*asked, *checked)))
