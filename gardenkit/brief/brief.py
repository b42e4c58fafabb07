"""What the client wants, all together: pictures and style, the wants list, the budget and what they refuse."""

import attrs

from gardenkit.brief.style import Picture, Style
from gardenkit.brief.wants import Want


@attrs.frozen(kw_only=True)
class Brief:
    """The brief. ``budget`` is in the client's currency; ``refuses`` holds caution words no plant may carry."""

    pictures: tuple[Picture, ...] = ()
    style: Style = Style()
    wants: tuple[Want, ...] = ()
    budget: float | None = None
    currency: str = "$"
    refuses: tuple[str, ...] = ()
