"""Three palettes that differ in character, and a sentence for each on what it is and why one would take it."""

import calendar
from collections import Counter
from collections.abc import Mapping, Sequence

import attrs

from gardenkit.planting.choosing import Palette, Weights
from gardenkit.planting.mixing import Mix
from gardenkit.planting.season import flower_halves, flower_months
from gardenkit.planting.species import Species
from gardenkit.units import counted

LEAF = {"fine": "fine", "coarse": "bold"}
OWN_TOLD = 4  # kinds named that no other palette has. House value.


@attrs.frozen(kw_only=True)
class Character:
    """What a palette leans to: its ``words``, and the weights by which its kinds are chosen."""

    words: str
    weights: Weights


# House values: the first is the style as it stands, the others lean away from it to either side.
CHARACTERS = (
    Character(words="at home in the style", weights=Weights()),
    Character(
        words="long in flower, for bees and butterflies",
        weights=Weights(bloom=1.0, wildlife=0.7, winter=0.1, style=0.7, harmony=0.5),
    ),
    Character(words="strong in leaf and in winter", weights=Weights(bloom=0.05, wildlife=0.1, winter=1.0, style=0.7)),
)


def palette_words(found: Sequence[Palette], mix: Mix, *, shift_days: float = 0.0) -> tuple[str, ...]:
    """Return for each palette what it holds, what it leads in, and the kinds that are its own."""
    kinds = [[choice.species for choice in one.choices] for one in found]
    figures = [_figures(each, mix, shift_days) for each in kinds]
    times = Counter(k.botanical for each in kinds for k in each)
    said = []
    for one, each in zip(figures, kinds, strict=True):
        ahead = [word for word, value in one.items() if len(found) > 1 and _leads(value, word, figures)]
        own = [k.botanical for k in each if times[k.botanical] == 1]
        words = f"{_holds(each, shift_days)}."
        words += f" Of the {len(found)} it has {_listed(ahead)}." if ahead else ""
        more = f" and {len(own) - OWN_TOLD} more" if len(own) > OWN_TOLD else ""
        words += f" Only here: {', '.join(own[:OWN_TOLD])}{more}." if own and len(found) > 1 else ""
        said.append(words)
    return tuple(said)


# ---- helpers


def _figures(kinds: Sequence[Species], mix: Mix, shift_days: float) -> Mapping[str, float]:
    many = max(len(kinds), 1)
    return {
        "most kinds that belong to the style": sum(k.genus in mix.genera for k in kinds) / many,
        "the longest bloom": sum(len(flower_halves(k, shift_days)) / 2 for k in kinds) / many,
        "most for wildlife": sum(len(k.wildlife) for k in kinds) / many,
        "most to look at in winter": sum(len(k.winter_interest) for k in kinds) / many,
        "most evergreens": sum(k.is_evergreen for k in kinds) / many,
        "most natives": sum(k.native_na for k in kinds) / many,
    }


def _leads(value: float, word: str, figures: Sequence[Mapping[str, float]]) -> bool:
    values = [one[word] for one in figures]
    return value == max(values) and values.count(value) == 1


def _holds(kinds: Sequence[Species], shift_days: float) -> str:
    months = {m for k in kinds for m in flower_months(k, shift_days)}
    bare = [calendar.month_abbr[m] for m in range(1, 13) if m not in months]
    flowers = "in flower all year" if not bare else f"in flower but for {_listed(bare)}"
    leaves = Counter(k.texture for k in kinds)
    textures = _listed([f"{leaves[t]} {word}" for t, word in LEAF.items()])
    evergreen = sum(k.is_evergreen for k in kinds)
    return f"{counted(len(kinds), 'kind')}, {evergreen} of them evergreen; {textures} in leaf; {flowers}"


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
