"""Every setting of the style acts on a later step: turning it from one end to the other changes the result its way."""

from functools import cache
from pathlib import Path
from typing import Any

import attrs
import numpy as np
import pytest

from gardenkit.brief.style import LEANINGS, Style
from gardenkit.brief.styles import STYLES, mixed
from gardenkit.garden import Garden
from gardenkit.garden.kept_setting import Kept
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing import Candidate, propose
from gardenkit.planting.choosing_rules import has_colour
from gardenkit.planting.composing import Composition, Taste
from gardenkit.planting.manner import TEXTURE, neatness
from gardenkit.planting.planting import Plant
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.composed import composed
from gardenkit.project.edits import brief, site, structure
from gardenkit.project.layout import layout
from gardenkit.project.styled import built_of, manner_of, signature_of, wishes_of

CATALOGUE = load_catalogue()
MIDDLE, DEEP = 3.5, 11.0  # m: where the walk runs, and how far
ORANGE = ("#e8792b",)  # a colour few kinds have, so that it matters how strictly it is meant
LAYERS = ("perennial", "shrub", "grass", "ground cover")
SHOWN = tuple(s for s in CATALOGUE if s.is_ornamental and s.layer in ("perennial", "shrub", "grass", "ground cover"))[
    ::4
]
PALETTE = (
    *("Salvia nemorosa", "Echinacea purpurea", "Nepeta × faassenii", "Geranium sanguineum", "Stachys byzantina"),
    *("Panicum virgatum", "Waldsteinia fragarioides", "Phlox subulata", "Heuchera americana", "Ilex glabra"),
)


@cache
def plot() -> Project:
    corners = ((0.0, 0.0), (2 * MIDDLE, 0.0), (2 * MIDDLE, DEEP), (0.0, DEEP))
    made = site.set_boundary(Project(name="plot"), corners)
    made = site.add_opening(made, "gate", "front", at=(MIDDLE, 0.0), width=1.2, sill=0.0, head=1.2)
    return site.add_opening(made, "gate", "back", at=(MIDDLE, DEEP), width=1.2, sill=0.0, head=1.2)


def styled(**settings: Any) -> Project:
    return brief.set_style(plot(), Style(**settings))


def palette(**settings: Any) -> tuple[Species, ...]:
    made = styled(**settings)
    wishes = attrs.evolve(
        wishes_of(made), layers=(), manner=manner_of(made.brief.style), wants=signature_of(made.brief.style)
    )
    found = propose([Candidate(species=s) for s in SHOWN], attrs.evolve(wishes, months=(6, 7), kinds_a_month=1))
    return tuple(choice.species for choice in found.choices)


def walk(made: Project) -> Project:
    return structure.add_path(made, "walk", start="front", end="back")


@cache
def arranged(variation: int = 1, **settings: Any) -> Composition:
    made = structure.add_path(styled(**settings), "walk", start="front", end="back", curvature=0.0)
    kinds = [CATALOGUE[name] for name in PALETTE]
    (found,) = composed(made, kinds, catalogue=CATALOGUE, tastes=(Taste(),), variation=variation)
    return found


def length_of_walk(**settings: Any) -> float:
    made = walk(styled(**settings))
    return layout(made).routes["walk"].length


def mean(kinds: tuple[Species, ...], value: Any) -> float:
    return float(np.mean([value(s) for s in kinds]))


def in_colours(**settings: Any) -> float:
    return mean(
        tuple(s for s in palette(colours=ORANGE, **settings) if s.bloom_months), lambda s: has_colour(s, ORANGE)
    )


def unlike_sides(**settings: Any) -> int:
    """Return by how many plants the sides of the walk differ, kind by kind, of the kinds that come back: in four
    layouts together, for in a single one chance has as large a say.
    """
    signature = ("Salvia nemorosa", "Panicum virgatum")
    found = 0
    for variation in (1, 2, 3, 4):
        plants = [p for p in arranged(variation, signature=signature, **settings).plants if p.stays]
        for name in signature:
            found += abs(sum(1 if p.at[0] > MIDDLE else -1 for p in plants if p.species == name))
    return found


def longest_without(**settings: Any) -> float:
    """Return how many metres of the walk in a row have no plant of the signature beside them: in four layouts."""
    found = 0.0
    for variation in (1, 2, 3, 4):
        made = arranged(variation, signature=("Salvia nemorosa",), **settings).plants
        along = sorted(p.at[1] for p in made if p.species == "Salvia nemorosa" and abs(p.at[0] - MIDDLE) < 2.5)
        found += max(np.diff([0.0, *along, DEEP]))
    return float(found)


# setting -> what it changes, measured so that the figure is greater at the end of the setting than at its beginning
MEASURED: dict[str, Any] = {
    "curving": length_of_walk,
    "formal": lambda **s: mean(palette(**s), neatness),
    "symmetry": lambda **s: -unlike_sides(**s),
    "fullness": lambda **s: arranged(**s).figures.coverage[5],
    "evergreen_share": lambda **s: mean(palette(**s), lambda kind: kind.is_evergreen),
    "natives_share": lambda **s: mean(palette(**s), lambda kind: kind.native_na),
    "strict": in_colours,
    "texture": lambda **s: mean(palette(**s), lambda kind: TEXTURE[kind.texture]),
    "variety": lambda **s: len(palette(**s)),
    "repetition": lambda **s: -longest_without(**s),
    "boldness": lambda **s: arranged(**s).figures.drift_area,
}


def test_every_setting_has_its_measure() -> None:
    assert set(MEASURED) == set(LEANINGS)


@pytest.mark.parametrize("setting", LEANINGS)
def test_turning_a_setting_changes_a_later_step_its_way(setting: str) -> None:
    low, high = (MEASURED[setting](**{setting: end}) for end in (0.1, 0.9))
    assert high > low, (low, high)


def test_the_first_material_of_the_style_that_paths_are_made_of_is_that_of_a_new_path() -> None:
    made = walk(styled(materials=("clipped hedge", "gravel", "paving")))
    assert made.structure.paths[0].surface == "gravel"
    told = structure.add_path(styled(materials=("gravel",)), "walk", start="front", end="back", surface="bark")
    assert told.structure.paths[0].surface == "bark"
    assert walk(plot()).structure.paths[0].surface == "stepping stones"


def test_the_signature_of_a_style_is_in_its_palette_and_comes_back_along_the_walk() -> None:
    rare = ("Geranium sanguineum", "Echinacea purpurea")
    names = {s.botanical for s in palette()}
    other = [s.botanical for s in SHOWN if s.botanical not in names][:2]
    assert set(other) <= {s.botanical for s in palette(signature=tuple(other))}
    counts = [
        sum(p.species == rare[1] for p in arranged(**({"signature": rare} if of_style else {})).plants)
        for of_style in (False, True)
    ]
    assert counts[1] > counts[0]


def test_every_signature_plant_of_a_starting_style_is_in_the_catalogue() -> None:
    for style in STYLES.values():
        for name in style.signature:
            assert CATALOGUE[name].botanical == name


def test_a_plan_is_held_against_its_style_and_what_is_answerable_is_named() -> None:
    gravel = structure.add_path(
        styled(curving=1.0, materials=("brick",)), "walk", start="front", end="back", curvature=0.0
    )
    kept = {one.setting: one for one in Garden(gravel, Path("nowhere")).style_kept}
    assert set(kept) == {*LEANINGS, "materials", "materials_most", "forms", "signature"}
    assert (kept["curving"].is_kept, kept["curving"].answerable) == (False, ("walk",))
    assert kept["curving"].found == pytest.approx(0.0, abs=1e-6)  # a straight walk
    assert (kept["materials"].is_kept, kept["materials"].answerable) == (False, ("path walk of stepping stones",))
    assert kept["formal"].found is None  # nothing is planted
    straight = brief.adjust_style(gravel, "curving", 0.0)
    assert {one.setting: one.is_kept for one in Garden(straight, Path("nowhere")).style_kept}["curving"] is True


def test_plants_are_answerable_for_a_style_that_is_not_kept() -> None:
    made = structure.add_path(styled(formal=1.0, evergreen_share=0.9), "walk", start="front", end="back", curvature=0.0)
    planted = attrs.evolve(made.planting, plants=arranged().plants)
    kept = {one.setting: one for one in Garden(attrs.evolve(made, planting=planted), Path("nowhere")).style_kept}
    assert kept["formal"].is_kept is False
    assert set(kept["formal"].answerable) <= set(PALETTE)
    assert kept["evergreen_share"].is_kept is False
    assert not any(CATALOGUE[name].is_evergreen for name in kept["evergreen_share"].answerable)
    lenient = brief.adjust_style(attrs.evolve(made, planting=planted), "evergreen_share", 0.05)
    (borne,) = [one for one in Garden(lenient, Path("nowhere")).style_kept if one.setting == "evergreen_share"]
    assert borne.is_kept and borne.answerable
    assert all(CATALOGUE[name].is_evergreen for name in borne.answerable)


def test_kinds_of_plants_are_answerable_for_how_many_kinds_there_are() -> None:
    names = [species.botanical for species in SHOWN[:14]]
    plants = [name for count, name in enumerate(names, start=1) for _ in range(count)]  # one of the first, two of ...
    placed = tuple(Plant(number=n, species=name, at=(1.0, 1.0)) for n, name in enumerate(plants, start=1))

    def held(variety: float) -> Kept:
        made = styled(variety=variety)
        planted = attrs.evolve(made, planting=attrs.evolve(made.planting, plants=placed))
        return next(one for one in Garden(planted, Path("nowhere")).style_kept if one.setting == "variety")

    as_wanted, too_many, too_few = held(0.25), held(0.0), held(1.0)
    assert (as_wanted.is_kept, too_many.is_kept, too_few.is_kept) == (True, False, False)
    assert too_many.answerable == tuple(names[:3])  # those there are fewest of
    assert as_wanted.answerable == too_few.answerable == tuple(names[:-4:-1])  # those most plants are of


def test_favoured_forms_are_chosen_more_often() -> None:
    def share(forms: tuple[str, ...]) -> float:
        return mean(palette(forms=forms), lambda kind: kind.form in ("mat", "mound"))

    assert share(("mat", "mound")) > share(()) + 0.1


def test_a_style_of_few_materials_builds_a_new_path_of_one_that_is_there() -> None:
    laid = structure.add_area(plot(), "patio", outline=((1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0)))
    there = built_of(laid.structure)
    for most, surface in ((0, "gravel"), (1, there[0])):
        made = brief.set_materials_most(brief.set_materials(laid, ("gravel", *there)), most)
        assert walk(made).structure.paths[0].surface == surface
    made = walk(brief.set_materials_most(brief.set_materials(laid, ("gravel",)), 1))
    (kept,) = [one for one in Garden(made, Path()).style_kept if one.setting == "materials_most"]
    assert not kept.is_kept and kept.answerable == (built_of(made.structure)[1],)


def test_a_mixed_style_lies_between_its_parts_and_asks_for_plants_of_each() -> None:
    made = mixed({"dry stone": 40, "cottage": 60})
    cottage, dry = STYLES["cottage"], STYLES["dry stone"]
    for setting in LEANINGS:
        expected = 0.6 * getattr(cottage, setting) + 0.4 * getattr(dry, setting)
        assert getattr(made, setting) == pytest.approx(expected, abs=1e-3)
    assert [part.name for part in made.mixed] == ["cottage", "dry stone"]  # the larger share first
    assert made.materials[:2] == (cottage.materials[0], dry.materials[0])
    asked = [want.kinds for want in signature_of(made)][1:]
    assert set(asked[0]) < set(cottage.signature) and set(asked[1]) < set(dry.signature)
    assert len(asked[0]) > len(asked[1])


def test_turning_the_share_of_a_mix_turns_what_is_asked_of_a_palette() -> None:
    little, much = (mixed({"meadow": share, "formal": 1 - share}) for share in (0.2, 0.8))
    wanted = [wishes_of(brief.set_style(plot(), one)).natives_share for one in (little, much)]
    assert wanted[1] > wanted[0] + 0.2


@pytest.mark.parametrize("name", STYLES)
def test_signature_plants_of_a_trade_style_are_known_and_play_several_roles(name: str) -> None:
    kinds = [CATALOGUE[plant] for plant in STYLES[name].signature]
    assert len(kinds) == 6 and len({kind.role for kind in kinds}) >= 3
