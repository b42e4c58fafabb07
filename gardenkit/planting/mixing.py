"""What makes kinds a community and no ranked list: shares of the roles, leaves and forms that differ, no near twins."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from functools import partial

import attrs
import numpy as np

from gardenkit.geometry.plane import FloatArray
from gardenkit.planting.catalogue_columns import BULBS, HERBS
from gardenkit.planting.colour import is_neutral
from gardenkit.planting.harmony import pair_harmony
from gardenkit.planting.species import Species
from gardenkit.planting.winter import flowers_early, is_frame, may_frame, stands

# Least and most share of the herbaceous kinds that each role takes, without bulbs. House values, wide enough that the
# composer can plant the published shares by number with them: framework about 10 %, accompanying 30 to 35 %
# (Silbersommer leaflet, Bund deutscher Staudengärtner), ground covers about 50 %, fillers 5 to 10 % (Rainer and West,
# from memory). A framework plant stands singly, so its kinds are a larger share than its plants.
ROLES: Mapping[str, tuple[float, float]] = {
    "framework": (0.12, 0.35),
    "accompanying": (0.30, 0.50),
    "ground cover": (0.20, 0.45),
    "filler": (0.0, 0.15),
}
# Least share of the kinds in each leaf texture, so that neighbours can differ. House values.
TEXTURES: Mapping[str, float] = {"fine": 0.15, "medium": 0.15, "coarse": 0.15}
# Of the ground covers, and of the perennials and grasses that make the frame, this share is to be seen in January.
# House values.
WINTER_GREEN, WINTER_STEMS = 0.5, 0.5
SPRING_BULBS = 0.5  # of the bulbs, this share flowers by April, before perennials do. House value.
MOST_OF_A_FORM = 0.40  # of the herbaceous kinds may grow alike. House value.
GREEN = "#5f8a4c"  # leaves a flower is seen against: about the mean of the catalogue's summer leaves. House value.
LOWEST, HIGHEST = -1.24, 1.39  # published range of harmony (Ou and Luo 2006)
OF_GENUS = 0.75  # what a kind of the style's genera is worth against a signature plant of it. House value.


@attrs.frozen(kw_only=True)
class Mix:
    """How a palette is to go together: the ``genera`` and ``signature`` kinds of the style, how ``strict`` its colours
    are meant (0 to 1), whether ``roles``, leaves and forms are minded, and the share of shrubs and conifers that
    ``frame`` the garden in winter by their leaves. ``unlike`` are kinds of other palettes of
    which at most the share ``alike`` may come again.
    """

    genera: tuple[str, ...] = ()
    signature: tuple[str, ...] = ()
    strict: float = 0.0
    roles: bool = True
    frame: float = 0.0
    unlike: tuple[str, ...] = ()
    alike: float = 0.6


@attrs.frozen(eq=False, kw_only=True)
class Part:
    """One rule of the mix: of the kinds that count ``among``, the ``flags`` are at least or at most (``sense`` 1, -1)
    a ``share``; ``among`` None: at most ``share`` kinds in all.
    """

    words: str
    topic: str
    sense: int
    flags: FloatArray
    among: FloatArray | None
    share: float


def parts(kinds: Sequence[Species], mix: Mix) -> tuple[Part, ...]:
    """Return the rules of a mix over the kinds there are."""
    found = list(_twins(kinds))
    if mix.unlike:
        again = np.array([float(k.botanical in mix.unlike) for k in kinds])
        words = "kinds that the palettes before it have too"
        every = np.ones(len(kinds))
        found.append(Part(words=words, topic="character", sense=-1, flags=again, among=every, share=mix.alike))
    found += _winter(kinds, mix.frame) if mix.frame > 0 else []
    return tuple(found + (list(_differing(kinds)) if mix.roles else []))


def at_home(species: Species, mix: Mix) -> float:
    """Return how much a kind belongs to the style, 0 to 1; a half where the style names no genera."""
    if not (mix.genera or mix.signature):
        return 0.5
    return 1.0 if species.botanical in mix.signature else OF_GENUS * (species.genus in mix.genera)


def colour_harmony(species: Species, colours: Sequence[str], strict: float = 0.5) -> float:
    """Return how well a kind's flowers go with leaves and, as ``strict`` as it is meant (0 to 1), with the style's
    colours: 0 to 1 (Ou and Luo).
    """
    flowers = [c for c in species.flower_colours if not is_neutral(c)]
    if not flowers:
        return 0.5
    beside = [c for c in colours if not is_neutral(c)]
    leaves = _going(flowers, [species.foliage_summer or GREEN])
    return (1 - strict) * leaves + strict * _going(flowers, beside) if beside else leaves


# ---- helpers


def _going(flowers: Sequence[str], beside: Sequence[str]) -> float:
    each = [pair_harmony(flower, other) for flower in flowers for other in beside]
    return float(np.clip((np.mean(each) - LOWEST) / (HIGHEST - LOWEST), 0.0, 1.0))


def _differing(kinds: Sequence[Species]) -> list[Part]:
    herbs = _flags(kinds, lambda k: k.layer in (*HERBS, "ground cover") and k.layer not in BULBS)
    every, found = np.ones(len(kinds)), list[Part]()
    for role, (least, most) in ROLES.items():
        words = f"{role} kinds among the perennials and ground covers"
        of = herbs * _flags(kinds, partial(_has, "role", role))
        for sense, share in ((1, least), (-1, most)):
            if share > 0:
                found.append(Part(words=words, topic="roles", sense=sense, flags=of, among=herbs, share=share))
    for texture, share in TEXTURES.items():
        of = _flags(kinds, partial(_has, "texture", texture))
        found.append(
            Part(words=f"kinds of {texture} leaf", topic="contrast", sense=1, flags=of, among=every, share=share)
        )
    for form in dict.fromkeys(k.form for k, herb in zip(kinds, herbs, strict=True) if herb):
        words = f"{form} forms among the perennials and ground covers"
        of = herbs * _flags(kinds, partial(_has, "form", form))
        found.append(Part(words=words, topic="contrast", sense=-1, flags=of, among=herbs, share=MOST_OF_A_FORM))
    return found


def _winter(kinds: Sequence[Species], frame: float) -> list[Part]:
    """Return that the frame is to be seen in winter, in wood, on the ground and in what is left standing."""
    asked = (
        ("evergreen kinds among the shrubs and conifers", frame, may_frame, is_frame),
        ("ground covers that keep their leaves in winter", WINTER_GREEN, _covers, lambda k: _covers(k) and stands(k)),
        ("frame perennials that stand in winter", WINTER_STEMS, _frame_herb, lambda k: _frame_herb(k) and stands(k)),
        ("bulbs that flower by April", SPRING_BULBS, _bulb, lambda k: _bulb(k) and flowers_early(k)),
    )
    return [
        Part(words=words, topic="evergreen", sense=1, flags=_flags(kinds, of), among=_flags(kinds, among), share=share)
        for words, share, among, of in asked
    ]


def _covers(kind: Species) -> bool:
    return kind.role == "ground cover" and kind.layer not in BULBS


def _frame_herb(kind: Species) -> bool:
    return kind.role == "framework" and kind.layer in HERBS and kind.layer not in BULBS


def _bulb(kind: Species) -> bool:
    return kind.layer == "bulb" and kind.role == "scatter"


def _has(field: str, word: str, kind: Species) -> bool:
    return bool(getattr(kind, field) == word)


def _twins(kinds: Sequence[Species]) -> list[Part]:
    """Return that of one species, itself or its forms, a palette has one; garden forms of no species differ enough."""
    names = [kind.botanical.split(" '")[0] for kind in kinds]
    return [
        Part(
            words=f"{name} beside a form of its own",
            topic="twins",
            sense=-1,
            flags=np.array([float(n == name) for n in names]),
            among=None,
            share=1.0,
        )
        for name, count in Counter(names).items()
        if count > 1 and " " in name
    ]


def _flags(kinds: Sequence[Species], is_so: Callable[[Species], bool]) -> FloatArray:
    return np.array([float(is_so(k)) for k in kinds])
