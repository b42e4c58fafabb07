"""A planting composed in a designer's order: anchors, masses, rhythm, drifts, edging, ground layer, scatter.

Pure functions on plain inputs. The same variation number gives the same plan; plants that are kept are composed round.
"""

import math
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from typing import NamedTuple

import attrs
import numpy as np

from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.composing.accents import BEAT as NARROW_BEAT
from gardenkit.planting.composing.accents import accent_kinds, accents
from gardenkit.planting.composing.apart import by_kind, uncrowded
from gardenkit.planting.composing.carpet import BARE_SHARES, OWN_UPTO, bulbs, closers, ground_layer
from gardenkit.planting.composing.company import in_company
from gardenkit.planting.composing.drifts import Division, divided
from gardenkit.planting.composing.figures import CompositionFigures, covered, figures_of
from gardenkit.planting.composing.fillers import fillers, quick
from gardenkit.planting.composing.filling import filled, gathered
from gardenkit.planting.composing.formal import Mirror, doubled, edge_line, hedge, mirror_of, mirrored, one_side, paired
from gardenkit.planting.composing.free_ground import free_ground
from gardenkit.planting.composing.given import Aims, BedGround, SunLookup, Surroundings, Taste
from gardenkit.planting.composing.ground import Ground, Mask, ground_of
from gardenkit.planting.composing.kinds import Kind, keeps_sun, kind_of, may_stand, untaken
from gardenkit.planting.composing.labels import harmony_of, labelled
from gardenkit.planting.composing.order import Order
from gardenkit.planting.composing.register import TERMS, picture_costs
from gardenkit.planting.composing.screens import screens
from gardenkit.planting.composing.stages import Held, number_of, with_held
from gardenkit.planting.composing.supported import climbers
from gardenkit.planting.composing.winter_floor import winter_floor
from gardenkit.planting.composing.within import within
from gardenkit.planting.composing.woody import Placed, anchors, as_placed, in_order, masses
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.planting.thinning import to_take_out
from gardenkit.sources import HOUSE, Figure

__all__ = [
    "TASTES",
    "TERMS",
    "Aims",
    "BedGround",
    "Composition",
    "SunLookup",
    "Surroundings",
    "Taste",
    "compose",
    "proposals",
]
BEAT = Figure(4.0, "m along the path", f"{HOUSE}: from one stand of the signature to the next")
BARE_IN = 5  # years: what is bare then stays so. House value.
TRIES = (
    3  # ways to divide and fill the drifts of a proposal, of which the picture that costs least is taken. House value.
)
ACCENTS = 2  # kinds that stand as accents in narrow beds. House value.
Progress = Callable[[float, str], None]
Rooms = Mapping[Kind, Mask]  # the squares on which each kind may stand
# Four proposals that differ in character. House values.
TASTES = (
    Taste(words="an even hand"),
    Taste(words="bold masses, fewer and larger", boldness=1.5, repetition=0.8, slant=28.0),
    Taste(words="finely woven, the signature often", boldness=0.75, repetition=1.7, colour=1.5, slant=16.0),
    Taste(words="shrubs as the frame, a calm front", shrubs=1.35, order=1.5, rhythm="paired", slant=20.0),
)


@attrs.frozen(eq=False, kw_only=True)
class Composition:
    """One proposal: all ``plants`` (kept ones first), the drifts behind them, its figures, what the ``terms`` of the
    register cost, and who is left.

    ``stage_of`` is the stage of each new plant, ``signature`` the kinds that come back along the walk;
    ``left_out`` names kinds of the palette that found no place; ``bare`` word of the sun (full, part, shade) -> m2 that
    are bare in year 5 because no herb of the palette takes the sun there; ``closed`` the share of the ground that the
    style closes; ``thinned`` how many plants were taken out
    again to keep to the limits of the brief.
    """

    variation: int
    taste: Taste
    plants: tuple[Plant, ...]
    kept: int
    stages: dict[str, int]
    figures: CompositionFigures
    terms: dict[str, float]
    division: Division
    labels: tuple[str, ...]
    left_out: tuple[str, ...]
    bare: dict[str, float]
    closed: float = 1.0
    stage_of: tuple[str, ...] = ()
    signature: tuple[str, ...] = ()
    thinned: int = 0

    @property
    def new(self) -> tuple[Plant, ...]:
        """The plants that were not there before."""
        return self.plants[self.kept :]

    def up_to(self, stage: int) -> tuple[Plant, ...]:
        """Return the new plants of the stages up to a number, 1 to 7 (see ``stages.ORDER``)."""
        return tuple(p for p, of in zip(self.new, self.stage_of, strict=True) if number_of(of) <= stage)

    def held(self, stage: int) -> Held:
        """Return the stages up to a number, to be held while the later ones are redone."""
        return Held(
            upto=stage,
            plants=self.up_to(stage),
            stage_of=tuple(of for of in self.stage_of if number_of(of) <= stage),
            division=self.division,
            labels=self.labels,
            signature=self.signature,
        )


def proposals(
    palette: Iterable[Species],
    beds: Sequence[BedGround],
    surroundings: Surroundings,
    *,
    keep: Sequence[Plant] = (),
    catalogue: Catalogue,
    aims: Aims | None = None,
    variation: int = 1,
    first_number: int = 1,
    tastes: Sequence[Taste] = TASTES,
    ground: Ground | None = None,
    held: Held | None = None,
    progress: Progress | None = None,
    stop: Callable[[], bool] | None = None,
) -> tuple[Composition, ...]:
    """Return one composition for each taste, told apart by character; fewer when stopped before the last. The stages
    that are ``held`` are the same in all; ``ground`` is the squares of the beds where they are known already.
    """
    found, kinds, ground = list[Composition](), tuple(palette), ground or ground_of(beds, surroundings)
    for n, taste in enumerate(tastes):
        if stop is not None and stop() and found:
            break
        if progress is not None:
            progress(n / len(tastes), f"composing: {taste.words}")
        found.append(
            compose(
                kinds,
                beds,
                surroundings,
                keep=keep,
                catalogue=catalogue,
                aims=aims,
                variation=variation * 10 + n,
                first_number=first_number,
                taste=taste,
                ground=ground,
                held=held,
            )
        )
    return tuple(found)


def compose(
    palette: Iterable[Species],
    beds: Sequence[BedGround],
    surroundings: Surroundings,
    *,
    keep: Sequence[Plant] = (),
    catalogue: Catalogue,
    aims: Aims | None = None,
    variation: int = 1,
    first_number: int = 1,
    taste: Taste | None = None,
    ground: Ground | None = None,
    held: Held | None = None,
) -> Composition:
    """Return a planting of the beds with the palette, with the stages of an earlier one that are ``held``. Raises
    GardenError for an empty palette or no bed.
    """
    kinds = tuple(kind_of(s) for s in dict.fromkeys(palette))
    if not kinds:
        raise GardenError("the palette is empty; choose a palette first, or add kinds in the step What suits a spot")
    work = _Work(
        kinds=kinds,
        ground=ground or ground_of(beds, surroundings),
        surroundings=surroundings,
        aims=aims or Aims(),
        taste=taste or Taste(),
        rng=np.random.default_rng(variation),
        placed=[as_placed(plant, catalogue) for plant in keep],
        held=held,
    )
    if held is not None:
        each = zip(held.plants, held.stage_of, strict=True)
        work.placed += [attrs.evolve(as_placed(plant, catalogue), stage=stage) for plant, stage in each]
    return work.composition(tuple(keep), first_number=first_number, variation=variation)


# ---- helpers


class _Drifted(NamedTuple):
    """One way to divide the ground: its drifts, the kind of each, what its terms cost, and the plants."""

    division: Division
    labels: tuple[str, ...]
    terms: dict[str, float]
    placed: list[Placed]


@attrs.define(eq=False, kw_only=True)
class _Work:
    """The composition while it is made, stage by stage."""

    kinds: tuple[Kind, ...]
    ground: Ground
    surroundings: Surroundings
    aims: Aims
    taste: Taste
    rng: np.random.Generator
    placed: list[Placed]
    rooms: dict[Kind, Mask] = attrs.field(factory=dict)
    mirror: Mirror | None = None
    held: Held | None = None

    def composition(self, keep: tuple[Plant, ...], *, first_number: int, variation: int) -> Composition:
        if self.taste.mirrored:
            self.mirror = mirror_of(self.ground, self.surroundings.ways)
        stand = len(self.placed)
        self._woody()
        division, names, terms, _ = self._herbs(stand)
        self._ground_closed(stand, division, names)
        if self._does("filler"):
            self._yearly(stand)
        thinned = self._within(stand)
        new = self.placed[len(keep) :]
        plants = [_plant(first_number + i, p) for i, p in enumerate(new)]
        used, by_name = {p.kind.species for p in self.placed}, {k.species.botanical: k for k in self.kinds}
        left_out = tuple(k.species.botanical for k in self.kinds if k.species not in used)
        figures = figures_of(
            self.ground,
            self.placed,
            drifts=[d.area for d in division.drifts],
            harmony=harmony_of(division, [by_name[name] for name in names]),
        )
        return Composition(
            variation=variation,
            taste=self.taste,
            plants=(*keep, *plants),
            kept=len(keep),
            stages=dict(Counter(one.stage for one in new)),
            figures=figures,
            terms={**terms, **picture_costs(figures, len(left_out), len(division.drifts), self.taste, self.aims)},
            division=division,
            labels=names,
            left_out=left_out,
            closed=self.aims.closed,
            stage_of=tuple(one.stage for one in new),
            signature=tuple(s.botanical for s in self._signature()),
            thinned=thinned,
            bare=untaken(self.kinds, self.ground, covered(self.ground, self.placed, BARE_IN)),
        )

    def _does(self, stage: str) -> bool:
        """Whether a stage is composed here; else it is held as it was."""
        return self.held is None or number_of(stage) > self.held.upto

    def _drifters(self) -> list[Kind]:
        return _drifting(self.kinds, {one.kind for one in self.placed if one.stage == "line"})

    def _signature(self) -> tuple[Species, ...]:
        return _signature(self._drifters(), self.aims.signature)

    def _herbs(self, stand: int) -> "_Drifted":
        """Set the drifts and the edge, as far as they are not held; return the drifts of both sides."""
        if self.held is not None and not self._does("edge"):
            return _Drifted(self.held.division, self.held.labels, {}, [])
        drifters = self._drifters()
        division, names, terms, drifted = min((self._drifts(drifters) for _ in range(TRIES)), key=self._cost)
        self.placed += (drifted := [one for one in drifted if self._does(one.stage)])
        before = max(len(names), 1)
        if self.mirror is not None and names:
            self.placed += self._across(drifted)
            division, like = doubled(division, self.mirror, self.ground)
            names = tuple(names[d] for d in like)
        if self.held is not None:
            division, names = with_held(division, names, self.held, self.ground)
        self._thin(stand)
        self._without_shaded(stand)
        return _Drifted(division, names, {k: v * len(names) / before for k, v in terms.items()}, drifted)

    def _ground_closed(self, stand: int, division: Division, names: Sequence[str]) -> None:
        """Close the ground by low plants, unless that stage is held."""
        if not self._does("ground"):
            return
        drifters = self._drifters()
        by_name = {k.species.botanical: k for k in self.kinds}
        own = [by_name.get(names[d]) if names and d >= 0 else None for d in division.owner.tolist()]
        carpets = closers(drifters)
        singly = [k for k in drifters if k.species.height > OWN_UPTO and k.together[0] == 1]
        rooms = {kind: self._room(kind) for kind in (*carpets, *drifters, *(k for k in own if k is not None))}
        for least in BARE_SHARES:
            self._on_both_sides(rooms, partial(self._layer, carpets, singly, own, least))
            self._thin(stand)
        self._on_both_sides(
            rooms, lambda here: winter_floor(carpets, self.ground, here, self.placed, self.aims, self.rng)
        )

    def _yearly(self, kept: int) -> None:
        """Set what stands for a few years, and the bulbs."""
        company = quick(self.kinds)
        self.placed += fillers(
            company, self.ground, {k: self._room(k) for k in company}, self.placed, self.aims, self.rng
        )
        self._thin(kept)
        self.placed = in_company(self.placed, kept, self.ground, self._room)
        if self._does("ground"):
            self._carpeted(kept)
        new = bulbs(self._of("bulb"), self.ground, self.placed, self.rng, room=self._half)
        self.placed += [*new, *self._across(new)]

    def _carpeted(self, kept: int) -> None:
        """Run carpets over what was opened again."""
        low = [k for k in closers(self._drifters()) if k.part == "carpet"]
        nothing, rooms = [None] * len(self.ground), {kind: self._room(kind) for kind in low}
        self._on_both_sides(rooms, partial(self._layer, low, (), nothing, BARE_SHARES[-1]))
        self._thin(kept)

    def _on_both_sides(self, rooms: Rooms, planted: Callable[[Rooms], list[Placed]]) -> None:
        """Plant low: one half and its like first where there is an axis, then whatever is left."""
        if self.mirror is not None:
            new = planted({kind: room & self.mirror.half for kind, room in rooms.items()})
            self.placed += new
            self.placed += self._across(new)
        self.placed += planted(rooms)

    def _layer(
        self, low: Sequence[Kind], high: Sequence[Kind], drifted: Sequence[Kind | None], least: float, rooms: Rooms
    ) -> list[Placed]:
        return ground_layer(low, high, self.ground, rooms, self.placed, drifted, self.aims, self.rng, least=least)

    def _room(self, kind: Kind) -> Mask:
        if kind not in self.rooms:
            self.rooms[kind] = may_stand(kind, self.ground, self.surroundings)
        return self.rooms[kind]

    def _of(self, part: str) -> list[Kind]:
        return [k for k in self.kinds if k.part == part]

    def _grown(self) -> None:
        """Look at the sun again as it will be when all that stands so far has grown."""
        if self.surroundings.later is not None and self.placed:
            hours = self.surroundings.later([_plant(i, one) for i, one in enumerate(self.placed)])
            self.ground = attrs.evolve(self.ground, later=hours(self.ground.points))
            self.rooms.clear()

    def _thin(self, kept: int) -> None:
        """Take out the few new plants that crowd a neighbour after all, by the rule that the advice speaks by."""
        planted = [
            (attrs.evolve(_plant(i, one), locked=i < kept), one.kind.species) for i, one in enumerate(self.placed)
        ]
        gone = to_take_out(planted)
        self.placed = [one for i, one in enumerate(self.placed) if i not in gone]

    def _within(self, kept: int) -> int:
        """Take out what goes over the limits of the brief; return how many plants that were."""
        gone = within(self.placed[kept:], self.aims.limits, there=self.placed[:kept], rng=self.rng)
        self.placed = [one for i, one in enumerate(self.placed) if i - kept not in gone]
        return len(gone)

    def _without_shaded(self, kept: int) -> None:
        """Take out what the high plants of its neighbours' drifts will shade too much; the ground layer closes it."""
        self._grown()
        new = self.placed[kept:]
        kept_on = (p.kind.part not in ("drift", "carpet") or keeps_sun(p.kind.species, p.at, self.ground) for p in new)
        self.placed[kept:] = [p for p, keeps in zip(new, kept_on, strict=True) if keeps]

    def _woody(self) -> None:
        self._grown()
        if self._does("anchor"):
            self._anchored()
        before = len(self.placed)
        if self._does("mass"):
            if self.taste.clipped:
                one = one_side(self._room, self.mirror)
                self.placed += hedge(self.kinds, self.ground, self.surroundings, one, self.placed)
            share = 1.0 if self.mirror is None else float(self.mirror.half.mean())
            shrubs = self._of("shrub")
            self.placed += masses(
                shrubs,
                self.ground,
                self.taste,
                self.rng,
                self.placed,
                room=self._half,
                share=share,
                frame=self.aims.frame,
            )
        if self._does("accent"):
            beat = float(NARROW_BEAT) / self.taste.repetition
            self.placed += accents(accent_kinds(self.kinds)[:ACCENTS], self.ground, self.placed, beat, room=self._half)
        if self.taste.clipped and self._does("line"):
            self.placed += edge_line(self.kinds, self.ground, self.surroundings, self._half, self.placed)
        self.placed += self._across(self.placed[before:])
        self._grown()

    def _anchored(self) -> None:
        """Set the trees, the climbers and what screens."""
        there, pairs = {p.kind.species for p in self.placed}, self.mirror is not None
        trees = in_order((k for k in self._of("tree") if k.species not in there), paired=pairs)
        new = anchors(trees, self.ground, self.surroundings, self.rng, self.placed, room=self._half, paired=pairs)
        self.placed += climbers(
            [k for k in self._of("climber") if k.species not in there], self.ground, self.surroundings, self.placed
        )
        self.placed += [*new, *self._across(new)]
        if new:
            self._grown()
        self.placed += screens(self._of("shrub"), self.ground, self.surroundings, self.placed)

    def _half(self, kind: Kind) -> Mask:
        """Return where a kind may stand: in one half only where the other is to be its like."""
        return self._room(kind) if self.mirror is None else paired(self._room(kind), self.mirror)

    def _across(self, new: Sequence[Placed]) -> list[Placed]:
        """Return the like of new plants on the other side of the axis, if there is one."""
        if self.mirror is None:
            return []
        return mirrored(new, self.mirror, self.ground, self._room, self.placed)

    def _drifts(self, kinds: list[Kind]) -> "_Drifted":
        """Return one way to divide the free ground and to fill its drifts; nothing is set yet."""
        lined = any(one.stage == "line" for one in self.placed)
        taste = attrs.evolve(self.taste, edging=0.0) if lined else self.taste
        free = free_ground(self.ground, self.placed, self.surroundings.trees, self.mirror, self.held)
        division = divided(self.ground, free, taste, self.rng)
        if not kinds or not division.drifts:
            return _Drifted(division, (), {}, [])
        signature = self._signature()
        beats = _beats(division, self.surroundings, self.taste)
        order = Order(self.ground, self.placed)
        rooms = [self._room(kind) & order.fits(kind) for kind in kinds]
        found = labelled(division, kinds, signature, beats, self.aims, self.taste, self.rng, rooms=rooms)
        pairs = [(drift, kinds[int(label)]) for drift, label in zip(division.drifts, found.label, strict=True)]
        new: list[Placed] = []
        for drift, kind in sorted(pairs, key=lambda pair: -pair[1].species.spread):
            stage = "edge" if drift.is_edge else "signature" if kind.species in signature else "drift"
            room = self._room(kind).copy()
            room[drift.squares] &= uncrowded(kind, self.ground.points[drift.squares], by_kind([*self.placed, *new]))
            places = gathered(filled(drift, kind, self.ground, room, self.rng), self.aims.closed, self.rng)
            new += [Placed(kind=kind, at=at, stage=stage) for at in places]
        names = tuple(kinds[int(k)].species.botanical for k in found.label)
        return _Drifted(division, names, dict(found.terms), new)

    def _cost(self, tried: "_Drifted") -> float:
        """Return what one way to fill the drifts costs for each drift, by itself and as a picture."""
        figures = figures_of(self.ground, [*self.placed, *tried.placed])
        lost = len({k.species for k in self.kinds} - {p.kind.species for p in (*self.placed, *tried.placed)})
        costs = picture_costs(figures, lost, len(tried.division.drifts), self.taste, self.aims)
        return sum((*tried.terms.values(), *costs.values())) / max(len(tried.division.drifts), 1)


def _drifting(kinds: Sequence[Kind], lined: set[Kind]) -> list[Kind]:
    """Return the kinds that are set in drifts and carpets, without those that already run in a line."""
    return [k for k in kinds if k.part in ("drift", "carpet") and k not in lined]


def _to_a_millimetre(at: Point) -> Point:
    return round(at[0], 3), round(at[1], 3)


def _plant(number: int, one: Placed) -> Plant:
    return Plant(
        number=number,
        species=one.kind.species.botanical,
        at=_to_a_millimetre(one.at),
        support=one.support,
        until=one.until,
    )


def _signature(kinds: Sequence[Kind], of_style: Sequence[str] = ()) -> tuple[Species, ...]:
    """Return the two kinds that come back: those of the style, else long in flower or leaf, seen well, in groups."""

    def worth(kind: Kind) -> tuple[float, str]:
        s = kind.species
        if s.botanical in of_style:
            return math.inf, s.botanical
        shown = (
            len(s.bloom_halves) / 2 + 1.5 * (s.layer == "grass") + 1.0 * s.is_evergreen + 2.0 * (s.role == "framework")
        )
        return shown + (0.4 <= s.height <= 1.0), s.botanical

    tall = sorted((k for k in kinds if k.part == "drift" and not k.is_edge), key=worth, reverse=True)
    return tuple(k.species for k in tall[:2])


def _beats(division: Division, surroundings: Surroundings, taste: Taste) -> tuple[int, ...]:
    """Return the drifts that take the signature: every few metres along each way, on alternating or both sides."""
    back = [i for i, d in enumerate(division.drifts) if not d.is_edge]
    if not back:
        return ()
    at = np.array([division.drifts[i].at for i in back])
    found: list[int] = []
    for way in surroundings.ways:
        line = np.asarray(way)
        run = np.concatenate([[0.0], np.hypot(*np.diff(line, axis=0).T).cumsum()])
        side = 1
        for s in np.arange(1.5, run[-1], float(BEAT) / taste.repetition):
            here = np.array([np.interp(s, run, line[:, 0]), np.interp(s, run, line[:, 1])])
            ahead = np.array([np.interp(s + 0.3, run, line[:, 0]), np.interp(s + 0.3, run, line[:, 1])]) - here
            off = at - here
            left = ahead[0] * off[:, 1] - ahead[1] * off[:, 0]
            for which in (1, -1) if taste.rhythm == "paired" else (side,):
                away = np.where(left * which > 0, np.hypot(*off.T), np.inf)
                if math.isfinite(away.min()) and away.min() < 2.5:
                    found.append(back[int(away.argmin())])
            side = -side
    return tuple(dict.fromkeys(found))
