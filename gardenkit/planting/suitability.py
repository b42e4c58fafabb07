"""Which plants suit a spot: sun now and later, winter, soil, water, room and what is refused, with every reason."""

import re
from collections.abc import Iterable
from typing import Literal

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.planting.catalogue_columns import GRADES, LAYERS, REGION
from gardenkit.planting.colour import palette_distance, palette_fit
from gardenkit.planting.growth import size
from gardenkit.planting.invasive import listed_in
from gardenkit.planting.planting import HOURS
from gardenkit.planting.room import carries, tallest_tree
from gardenkit.planting.species import CONFIRM, NOT_LISTED, Species, grades_text, meant_by, toxicity_for
from gardenkit.planting.sun_need import light_words, sun_word
from gardenkit.site.hardiness import hardiness_zone
from gardenkit.site.sun_classes import DEFAULT

Verdict = Literal["yes", "maybe", "no"]
VERDICTS: tuple[Verdict, ...] = ("yes", "maybe", "no")
MOISTURE = ("dry", "medium", "moist", "wet")
PH_SLACK = 0.5  # pH units outside the plant's range that are worth a try. House value.
OUTSIDE_COLOUR = 25.0  # CIEDE2000 from every colour of the style: not its colours. House value.
ROOM_SLACK = 1.15  # of the bed's depth that a plant may be wide, pruned or leaning a little. House value.
YEARLY = ("annual", "tender bulb")  # planted every year, so winter does not rule them out
GROWN_YEARS = 15.0  # years after planting by which it must fit
# What each side counts for in the score, 1 together. House values: sun first, for it cannot be changed.
WEIGHTS = {"sun": 0.25, "sun later": 0.10, "winter": 0.15, "moisture": 0.15, "soil": 0.10, "room": 0.10, "style": 0.15}
TALL_TREES = re.compile(r"trees over (\d+(?:\.\d+)?) m")  # how a client's height limit for trees is refused
SAME_WORD = {"children": "people", "humans": "people", "pets": "dogs"}
# Words a client may refuse and how the catalogue's cautions write them; the second pattern takes them back.
REFUSALS = (  # what a client is offered to refuse; any other word is looked for in the cautions
    "toxic to people",
    "toxic to dogs",
    "toxic to cats",
    "toxic to horses",
    "toxic to livestock",
    "invasive",
    "thorns",
    "pollen allergy",
    "skin irritation",
    "suckers",
    "self-sowing",
)
CAUTION_WORDS: tuple[tuple[str, str, str], ...] = (
    (r"thorn|spine|spiny|prick", r"thorn|spine|spiny|prick", r"\bno thorns|thornless"),
    (r"sucker", r"sucker", r"$^"),
    (r"allerg|pollen|hay.?fever", r"allerg|pollen", r"pollen is ragweed"),
    (r"skin|irritat|rash", r"skin|irritat|itch|blister|burn", r"$^"),
    (r"self.?s(ow|eed)|seeds", r"self-sow|seeds (about|itself|freely|into)|seeds and .*spread", r"$^"),
)


def _zone(zone: str | None) -> str | None:
    return None if zone is None or not str(zone).strip() else hardiness_zone(zone)


@attrs.frozen(kw_only=True)
class Spot:
    """A place to plant; None means not known. Hours are direct sun a day in the growing season, lengths metres.

    ``moisture`` is ``dry``, ``medium``, ``moist`` or ``wet``; ``refuses`` holds caution words (``toxic to dogs``,
    ``thorns``, ``invasive``); ``colours`` the style's as #rrggbb; ``layers`` the ones wanted, all when empty;
    ``light_by`` whether the hours are of sun or what daily light is worth.
    """

    sun_hours_now: float | None = None
    sun_hours_year10: float | None = None
    zone: str | None = attrs.field(default=None, converter=_zone)
    moisture: str | None = None
    ph: float | None = None
    bed_depth: float | None = None
    height_limit: float | None = None
    refuses: tuple[str, ...] = ()
    colours: tuple[str, ...] = ()
    layers: tuple[str, ...] = ()
    sun_classes: str = DEFAULT
    light_by: str = HOURS


@attrs.frozen(kw_only=True)
class Reason:
    """One reason: ``ok`` True for, False against, None not known; ``hard`` when it alone decides; ``score`` 0 to 1."""

    ok: bool | None
    text: str
    topic: str
    hard: bool = True
    score: float = 1.0


@attrs.frozen(kw_only=True)
class Judgement:
    """Whether one plant suits a spot, why, and how well (0 to 1, to sort by)."""

    species: Species
    verdict: Verdict
    reasons: tuple[Reason, ...]
    score: float

    @property
    def against(self) -> tuple[Reason, ...]:
        """Only the reasons against."""
        return tuple(reason for reason in self.reasons if reason.ok is False)


def suits(species: Species, spot: Spot) -> Judgement:
    """Return whether a plant suits a spot, with a reason for each side looked at.

    ``no`` when a hard reason is against; ``maybe`` when a soft one is, or sun or winter are not known; else ``yes``.
    That a plant is not listed as toxic never makes it safe: such a reason has ``ok`` None. Raises GardenError
    for an unknown moisture or layer word.
    """
    _checked(spot)
    found = (
        *_layer(species, spot),
        _sun(species, spot),
        *_sun_later(species, spot),
        _winter(species, spot),
        _moisture(species, spot),
        _soil(species, spot),
        *_room(species, spot),
        *_refused(species, spot),
        *_style(species, spot),
    )
    return Judgement(species=species, verdict=_verdict(found), reasons=found, score=_score(found))


def refused_by(species: Species, word: str) -> str:
    """Return why a plant carries a refused caution word, in a few words, or an empty text when not listed for it.

    ``toxic`` any listed toxicity; ``toxic to dogs`` to dogs; ``toxic to dogs, severe`` from that grade on, a grade not
    known counts; ``invasive`` or ``invasive in US-MA``; ``plant Ilex`` the kind or genus itself; ``trees over 8 m``
    those that grow taller; any other word is looked for in the cautions. Being empty never means safe.
    """
    asked = word.strip().casefold()
    if asked.startswith("plant "):
        return "it is one" if meant_by(species, word.strip()[len("plant ") :]) else ""
    if found := TALL_TREES.fullmatch(asked):
        tall = species.is_tree and species.height > float(found[1])
        return f"it grows {species.height:.1f} m tall" if tall else ""
    if asked.startswith(("toxic", "poison")):
        return _toxic(species, asked)
    if asked.startswith("invasive"):
        where = asked.partition(" in ")[2].strip()
        listed = [e.sentence() for e in species.invasive if not where or where in e.jurisdiction.casefold()]
        if not listed and REGION.fullmatch(where.upper()):
            listed = list(listed_in(species, where))
        told = () if where else (c for c in species.cautions if re.search("invasive|invades", c))
        return f"listed as invasive: {', '.join(listed)}" if listed else _quoted(told)
    return _quoted(c for c in species.cautions if _warns(c, asked))


# ---- one side each


def _layer(species: Species, spot: Spot) -> tuple[Reason, ...]:
    if not spot.layers or species.layer in spot.layers:
        return ()
    return (
        Reason(
            ok=False, text=f"it is a {species.layer}; wanted are {', '.join(spot.layers)}", topic="layer", score=0.0
        ),
    )


def _sun(species: Species, spot: Spot) -> Reason:
    if spot.sun_hours_now is None:
        return Reason(
            ok=None, text=f"hours of sun are not known; it does best in {species.sun_best} sun", topic="sun", score=0.5
        )
    word = sun_word(spot.sun_hours_now, setting=spot.sun_classes)
    hours = f"{light_words(spot.sun_hours_now, spot.light_by)} is {_named(word)}"
    if word == species.sun_best:
        return Reason(ok=True, text=f"{hours}, where it does best", topic="sun")
    if word in species.sun_range:
        return Reason(
            ok=True, text=f"{hours}, which it takes; best in {_named(species.sun_best)}", topic="sun", score=0.7
        )
    wants = " or ".join(_named(w) for w in species.sun_range)
    return Reason(ok=False, text=f"{hours}; it wants {wants}", topic="sun", score=0.0)


def _sun_later(species: Species, spot: Spot) -> tuple[Reason, ...]:
    if spot.sun_hours_year10 is None:
        return ()
    word = sun_word(spot.sun_hours_year10, setting=spot.sun_classes)
    fits = word in species.sun_range
    text = f"in year 10, {light_words(spot.sun_hours_year10, spot.light_by)} is {_named(word)}"
    tail = "which still suits it" if fits else "too little by then" if _darker(word, species) else "more than it likes"
    return (Reason(ok=fits, text=f"{text}, {tail}", topic="sun later", hard=False, score=float(fits)),)


def _winter(species: Species, spot: Spot) -> Reason:
    hardy = f"zones {species.zone_min} to {species.zone_max}"
    if spot.zone is None:
        return Reason(ok=None, text=f"the hardiness zone is not known; grown in {hardy}", topic="winter", score=0.5)
    number = int(re.match(r"\d+", spot.zone)[0])  # type: ignore[index]
    if species.layer in YEARLY:
        return Reason(ok=True, text="planted out each year after the last frost", topic="winter")
    if number < species.zone_min:
        return Reason(ok=False, text=f"zone {spot.zone} is too cold; hardy in {hardy}", topic="winter", score=0.0)
    if number > species.zone_max:
        text = f"zone {spot.zone} is milder than {hardy}; it may lack winter cold or suffer in heat"
        return Reason(ok=False, text=text, topic="winter", hard=number > species.zone_max + 1, score=0.3)
    return Reason(ok=True, text=f"hardy in zone {spot.zone} ({hardy})", topic="winter")


def _moisture(species: Species, spot: Spot) -> Reason:
    takes = ", ".join(species.moisture)
    if spot.moisture is None:
        return Reason(ok=None, text=f"moisture is not known; it takes {takes}", topic="moisture", hard=False, score=0.5)
    if spot.moisture in species.moisture:
        return Reason(ok=True, text=f"takes {spot.moisture} ground", topic="moisture")
    here = MOISTURE.index(spot.moisture)
    steps = min(abs(here - MOISTURE.index(word)) for word in species.moisture)
    text = f"{spot.moisture} ground; it wants {takes}" + (": needs watering or drainage" if steps == 1 else "")
    return Reason(ok=False, text=text, topic="moisture", hard=steps > 1, score=0.4 if steps == 1 else 0.0)


def _soil(species: Species, spot: Spot) -> Reason:
    span = f"pH {species.ph_min:g} to {species.ph_max:g}"
    if spot.ph is None:
        return Reason(ok=None, text=f"soil pH is not known; usual is {span}", topic="soil", hard=False, score=0.5)
    off = max(species.ph_min - spot.ph, spot.ph - species.ph_max, 0.0)
    if off == 0:
        return Reason(ok=True, text=f"soil pH {spot.ph:g} suits ({span})", topic="soil")
    side = "too limy" if spot.ph > species.ph_max else "too sour"
    score = max(0.0, 1 - off / (2 * PH_SLACK))
    return Reason(
        ok=False,
        text=f"soil pH {spot.ph:g} is {side}; usual is {span}",
        topic="soil",
        hard=off > PH_SLACK + 1e-9,
        score=score,
    )


def _room(species: Species, spot: Spot) -> tuple[Reason, ...]:
    found = []
    grown = size(species, GROWN_YEARS)
    if spot.height_limit is not None:
        fits = grown.height <= spot.height_limit
        text = f"{grown.height:.1f} m tall in 15 years; {spot.height_limit:.1f} m is the limit"
        found.append(Reason(ok=fits, text=text, topic="room", score=float(fits)))
    if spot.bed_depth is not None and species.layer not in ("tree", "climber", "wall fruit"):
        fits, close = grown.spread <= spot.bed_depth, grown.spread <= spot.bed_depth * ROOM_SLACK
        text = f"{grown.spread:.1f} m wide in 15 years; the bed is {spot.bed_depth:.1f} m deep"
        score = 1.0 if fits else 0.5 if close else 0.0
        found.append(Reason(ok=fits, text=text, topic="room", hard=not close, score=score))
    if spot.bed_depth is not None and species.is_tree:
        most, fits = float(tallest_tree(spot.bed_depth)), bool(carries(species, spot.bed_depth))
        text = f"{species.height:.1f} m tall when full grown; a bed {spot.bed_depth:.1f} m deep carries {most:.1f} m"
        found.append(Reason(ok=fits, text=text, topic="room", score=float(fits)))
    return tuple(found)


def _refused(species: Species, spot: Spot) -> tuple[Reason, ...]:
    found = []
    for word in spot.refuses:
        why = refused_by(species, word)
        if why:
            found.append(Reason(ok=False, text=f'the client refuses "{word}": {why}', topic="refused", score=0.0))
        else:
            note = NOT_LISTED if word.casefold().startswith(("toxic", "poison")) else CONFIRM
            found.append(Reason(ok=None, text=f'not listed here for "{word}"; {note}', topic="refused", hard=False))
    return tuple(found)


def _style(species: Species, spot: Spot) -> tuple[Reason, ...]:
    if not spot.colours:
        return ()
    far, fit = palette_distance(species, spot.colours), palette_fit(species, spot.colours)
    fits = far <= OUTSIDE_COLOUR
    text = f"its colours are {'near' if fits else 'away from'} the style's (CIEDE2000 {far:.0f})"
    return (Reason(ok=fits, text=text, topic="style", hard=False, score=fit),)


# ---- helpers


def _verdict(reasons: tuple[Reason, ...]) -> Verdict:
    if any(reason.ok is False and reason.hard for reason in reasons):
        return "no"
    unsure = any(r.ok is False or (r.ok is None and r.hard) for r in reasons)
    return "maybe" if unsure else "yes"


def _score(reasons: tuple[Reason, ...]) -> float:
    """Return the weighted mean of the sides looked at; several reasons of one side count by the worst."""
    worst: dict[str, float] = {}
    for reason in reasons:
        if reason.topic in WEIGHTS:
            worst[reason.topic] = min(reason.score, worst.get(reason.topic, 1.0))
    total = sum(WEIGHTS[topic] for topic in worst)
    return sum(WEIGHTS[topic] * score for topic, score in worst.items()) / total if total else 0.0


def _toxic(species: Species, asked: str) -> str:
    asked, _, least = asked.partition(", ")
    to = asked.partition(" to ")[2].strip()
    who = SAME_WORD.get(to, to)
    if not species.toxic_to or (who and who not in species.toxic_to):
        said = "poison|toxic|deadly" if not who else "pets" if who in ("dogs", "cats") else "$^"
        return _quoted(c for c in species.cautions if re.search(said, c))
    if who:
        grade = toxicity_for(species, who)
        if least in GRADES and grade in GRADES and GRADES.index(grade) < GRADES.index(least):
            return ""
        return f"{grade} toxicity listed for {who}"
    return f"toxicity listed: {grades_text(species)}"


def _stem(word: str) -> str:
    return word[:-1] if word.endswith("s") and len(word) > 3 else word


def _warns(caution: str, asked: str) -> bool:
    """Return whether a caution of the catalogue carries the word asked for."""
    for word, said, unsaid in CAUTION_WORDS:
        if re.search(word, asked):
            return bool(re.search(said, caution) and not re.search(unsaid, caution))
    return _stem(asked) in caution.casefold()


def _quoted(cautions: Iterable[str]) -> str:
    listed = ", ".join(cautions)
    return f"caution: {listed}" if listed else ""


def _named(word: str) -> str:
    return "shade" if word == "shade" else f"{word} sun"


def _darker(word: str, species: Species) -> bool:
    order = ("shade", "part", "full")
    return order.index(word) < min(order.index(w) for w in species.sun_range)


def _checked(spot: Spot) -> None:
    if spot.moisture is not None and spot.moisture not in MOISTURE:
        raise GardenError(f'moisture is "{spot.moisture}"{nearest(spot.moisture, MOISTURE)}; use {", ".join(MOISTURE)}')
    for layer in spot.layers:
        if layer not in LAYERS:
            raise GardenError(f'no layer called "{layer}"{nearest(layer, LAYERS)}; give one of {", ".join(LAYERS)}')
