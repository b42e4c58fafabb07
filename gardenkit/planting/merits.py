"""What a plant brings beyond standing the spot, and what sets it apart from others that suit as well."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from gardenkit.planting.season import flower_halves
from gardenkit.planting.species import Species
from gardenkit.planting.suitability import VERDICTS, Judgement

FULL_BLOOM = 4.0  # months in flower that count as all one can ask. House value.
FULL_WINTER = 2.0  # winter interests, likewise. House value.
FULL_WILDLIFE = 3.0  # sorts of animals served, likewise. House value.
SCENT: Mapping[str, float] = {"none": 0.0, "light": 0.5, "strong": 1.0}  # House value.
LONG_BLOOM = 3  # months in flower from which a kind is said to flower long. House value.
TOLD = 4  # things said to set a plant apart. House value.


def merits(species: Species, shift_days: float = 0.0) -> dict[str, float]:
    """Return what a kind brings, side by side, 0 to 1 each; ``shift_days`` moves its bloom to the site."""
    return {
        "length of bloom": min(1.0, len(flower_halves(species, shift_days)) / 2 / FULL_BLOOM),
        "winter": min(1.0, len(species.winter_interest) / FULL_WINTER),
        "wildlife": min(1.0, len(species.wildlife) / FULL_WILDLIFE),
        "scent": SCENT[species.fragrance],
    }


def rank(judged: Judgement) -> tuple[int, float, float, str]:
    """Return what to sort judged plants by, best first: verdict, score to a hundredth, what they bring, name.

    Of many kinds that stand a spot equally well, those that bring most come first.
    """
    brings = sum(merits(judged.species).values())
    return VERDICTS.index(judged.verdict), -round(judged.score, 2), -brings, judged.species.botanical


def set_apart(kinds: Iterable[Species], shift_days: float = 0.0) -> dict[str, tuple[str, ...]]:
    """Return by botanical name what sets each kind apart from the others, the rarest among them first.

    What all of them share is not said, and of the rest ``TOLD`` things at most.
    """
    said = {kind.botanical: _words(kind, shift_days) for kind in kinds}
    times = Counter(word for words in said.values() for word in words)
    shared = {word for word, count in times.items() if count == len(said) > 1}
    return {
        name: tuple(sorted((w for w in words if w not in shared), key=times.__getitem__)[:TOLD])
        for name, words in said.items()
    }


def judged_alike(judged: Sequence[Judgement]) -> dict[str, bool | None]:
    """Return the sides that come out the same for all of several plants, to be said once: True where all suit fully,
    None where nothing is known of any. Empty for fewer than two.
    """
    if len(judged) < 2:
        return {}
    first, *others = ({topic: _came_out(one, topic) for topic in _topics(one)} for one in judged)
    return {t: ok for t, ok in first.items() if ok is not False and all(o.get(t, False) is ok for o in others)}


def _topics(judged: Judgement) -> tuple[str, ...]:
    return tuple(dict.fromkeys(reason.topic for reason in judged.reasons))


def _came_out(judged: Judgement, topic: str) -> bool | None:
    found = [reason for reason in judged.reasons if reason.topic == topic]
    if all(reason.ok is None for reason in found):
        return None
    return all(reason.ok and reason.score >= 1 for reason in found)


def _words(kind: Species, shift_days: float) -> tuple[str, ...]:
    """Return everything a kind brings in short words, each so that it can be counted over several kinds."""
    months = len(flower_halves(kind, shift_days)) / 2
    found = [f"{int(months)} months in flower"] if months >= LONG_BLOOM else []
    found += [f"{kind.fragrance} scent"] if kind.fragrance != "none" else []
    found += ["evergreen"] if kind.is_evergreen else []
    found += [f"in winter: {word}" for word in kind.winter_interest if word != "evergreen"]
    found += [f"for {word}" for word in kind.wildlife]
    return tuple(found)
