"""The register of all that a composition is judged by: every term with its plain name, its weight, what it costs."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from gardenkit.planting.composing.given import Aims, Taste

if TYPE_CHECKING:
    from gardenkit.planting.composing.figures import CompositionFigures

# Every term in the designer's words with its weight; all of them cost, and nothing is the best. House values: they were
# set by looking at plans. The first are asked of every way to fill the drifts, the last of the picture it makes.
OF_DRIFTS: Mapping[str, tuple[str, float]] = {
    "sun": ("in the sun it needs", 2.2),
    "dry": ("what bears it dry where trees drink", 1.5),
    "room": ("where it has room and sun all over its drift", 5.0),
    "depth": ("low in front, tall behind", 1.6),
    "size": ("as many together as the kind likes", 0.5),
    "style": ("in the colours of the style", 0.5),
    "rhythm": ("the signature comes back along the walk", 1.4),
    "apart": ("a kind does not stand beside itself", 3.5),
    "contrast": ("neighbours differ in leaf and form", 0.5),
    "harmony": ("what flowers side by side goes together", 0.35),
    "steps": ("nothing tall right before something low", 4.0),
    "shares": ("every kind has its share of the ground", 120.0),
    "months": ("something in flower in every month asked for", 1.5),
    "wants": ("evergreens and natives as the brief asks", 40.0),
}
OF_THE_PICTURE: Mapping[str, tuple[str, float]] = {
    "bare": ("the ground closes by year three", 3.0),
    "front": ("nothing tall in front", 2.0),
    "grid": ("set out in no grid", 6.0),
    "rings": ("no ring of one kind round a shrub", 3.0),
    "dots": ("nothing alone that likes company", 5.0),
    "winter": ("evergreen shrubs and standing stems hold the beds in winter", 2.0),
    "lost": ("every kind of the palette finds a place", 0.6),
}
TERMS: Mapping[str, tuple[str, float]] = {**OF_DRIFTS, **OF_THE_PICTURE}
WINTER_STANDS = (
    0.6  # of the beds under leaves, twigs or dry stems in January, from where no more is missed. House value.
)
_LEANS = {"rhythm": "repetition", "depth": "order", "steps": "order", "harmony": "colour"}


def weight(taste: Taste, key: str) -> float:
    """Return the weight of a term as a taste leans: its usual one, times the taste's own, times the slider's."""
    lean = getattr(taste, _LEANS[key]) if key in _LEANS else 1.0
    return TERMS[key][1] * float(lean) * dict(taste.weights).get(key, 1.0)


def picture_costs(
    figures: "CompositionFigures", lost: int, drifts: int, taste: Taste, aims: Aims | None = None
) -> dict[str, float]:
    """Return what the picture costs, term by term: shares count for every drift, as the terms of the drifts do.
    What the ``aims`` of the brief leave open is not missed.
    """
    asked = aims or Aims()
    shares = {
        "bare": max(asked.closed - figures.coverage[3], 0.0),
        "front": figures.tall_in_front,
        "grid": figures.lattice,
        "rings": figures.rings,
        "dots": figures.dots,
        "winter": max(asked.frame - (figures.frame or 0.0), 0.0) + max(WINTER_STANDS - figures.winter, 0.0),
    }
    costs = {key: weight(taste, key) * share * max(drifts, 1) for key, share in shares.items()}
    return {**costs, "lost": weight(taste, "lost") * lost}


def parts_of_the_whole(terms: Mapping[str, float]) -> dict[str, float]:
    """Return the share (0 to 1) that each term has in what a composition costs in all."""
    whole = sum(terms.values())
    return {key: value / whole if whole > 0 else 0.0 for key, value in terms.items()}
