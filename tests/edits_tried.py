"""Every edit of a garden, each with something to try it on: a number to pick with, and a place on the plan.

Read by tests of whole sessions. ``test_every_edit_is_tried`` holds this list against ``gardenkit.project.edits``.
"""

import datetime as dt
from collections.abc import Callable, Iterable
from types import MappingProxyType
from typing import Any

import attrs

from gardenkit.brief.style import Picture
from gardenkit.brief.styles import STYLES, style
from gardenkit.brief.want_kinds import WANT_KINDS
from gardenkit.brief.wants import Check, Want
from gardenkit.findings import GardenError
from gardenkit.geometry.plane import Point
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.divisions import divided_every
from gardenkit.planting.planting import LIGHT_BY, Plant
from gardenkit.project import Project
from gardenkit.project.edits import brief, handover, journal, photos, planting, site, structure
from gardenkit.project.layout import layout
from gardenkit.project.wanted import offered
from gardenkit.site.heights import SpotHeight
from gardenkit.site.notes import LEAST_POINTS
from gardenkit.site.site import ExistingTree
from gardenkit.site.site_photos import PhotoMark
from gardenkit.site.survey import Survey
from gardenkit.site.tracing import Underlay
from gardenkit.site.tree_protection import ROOT_RULES
from gardenkit.structure.kinds import GROUND_AREAS, SUPPORTS, SURFACES
from gardenkit.structure.posts import POST_RULES

Tried = Callable[[Project, int, Point], Project]
CATALOGUE = load_catalogue()
SOME_KINDS = ("Geum rivale", "Salvia nemorosa", "Amelanchier laevis", "Hakonechloa macra")
CROPS = ("Daucus carota subsp. sativus", "Solanum lycopersicum", "Pisum sativum")
DIVIDED = CATALOGUE["Salvia nemorosa"]
COLOURS = ("#7a4b8c", "#c9d4a0", "#e8e2d0")


def pick(items: Iterable[Any], number: int) -> Any:
    """Return one of some things by any number; GardenError when there is none, as an edit refuses."""
    listed = list(items)
    if not listed:
        raise GardenError("there is none of these to pick")
    return listed[number % len(listed)]


def kind(number: int) -> Any:
    return CATALOGUE[SOME_KINDS[number % len(SOME_KINDS)]]


def with_photo(p: Project) -> Project:
    """Return the project with a photo to try edits on."""
    if any(photo.name == "tried" for photo in p.site.photos):
        return p
    return photos.add_photo(p, "tried", file="tried.jpg", wide=1600, high=1200)


def spotted(n: int, at: Point) -> PhotoMark:
    return PhotoMark(name=f"mark {n % 4}", pixel=(100.0 * (n % 9), 90.0), at=at, height=0.1 * (n % 20))


def asked(p: Project, n: int) -> dict[str, Any]:
    """Return a want of some kind about things of the plan, as the form of the wants page would fill it."""
    row = pick(WANT_KINDS.values(), n)
    fields: dict[str, Any] = {"asks": row.key}
    if row.thing:
        fields["thing"] = pick(offered(p, row.thing), n)[1]
    if row.other:
        fields["other"] = pick(offered(p, row.other), n + 1)[1]
    if row.hours:
        fields |= {"since": 9.0, "until": 11.0}
    if row.needs_words:
        fields["words"] = row.offered[:1] or ("Salvia",)
    return fields


def turned(p: Project, n: int) -> Project:
    """Turn a placed thing; where there is none a pot is put down first."""
    made = p if p.structure.things else structure.add_thing(p, "pot")
    return structure.turn_thing(made, str(pick(made.structure.things, n).name), facing=15.0 * n)


def leveled(p: Project, n: int, at: Point) -> tuple[Project, str]:
    """Return a project with the name of one of its levels; where there is none a spot is set first."""
    made = p if p.structure.levels else structure.add_level(p, at=at, height=0.1)
    return made, str(pick(made.structure.levels, n).name)


def noted(p: Project, n: int, at: Point) -> tuple[Project, str]:
    """Return a project with the name of one of its notes; where there is none one is written first."""
    made = p if p.site.notes else structure.add_note(p, "dimension", line=square(at, 0.5)[:2])
    return made, str(pick(made.site.notes, n).name)


def with_area(p: Project, at: Point) -> Project:
    """Return the project with an area of the property, drawn first where there is none."""
    return p if p.areas else brief.add_property_area(p, "area", outline=square(at, 2.0))


def cropped(p: Project, n: int) -> Project:
    """Return the project with a bed for vegetables that has a crop."""
    name = bed(p, n)
    made = structure.change_bed(p, name, purpose="vegetables")
    there = any(crop.bed == name for crop in made.planting.crops)
    return made if there else planting.add_crop(made, CROPS[n % 3], name)


def several(p: Project, n: int) -> list[int]:
    """Three neighbouring plants of the list, so that they stand near one another."""
    return [int(pick(p.planting.plants, n + k).number) for k in range(3)]


def square(at: Point, half: float = 0.6) -> tuple[Point, ...]:
    return tuple((at[0] + dx * half, at[1] + dy * half) for dx, dy in ((-1, -1), (1, -1), (1, 1), (-1, 1)))


def bent(at: Point) -> tuple[Point, ...]:
    """Return a line with a corner at a place."""
    return (at[0] - 0.8, at[1] - 0.2), at, (at[0] + 0.7, at[1] - 0.4)


def accepting(p: Project, n: int) -> Project:
    return handover.accept(p, where=f"place {n % 3}", what="stands", reason="it was agreed")


def seen_on(n: int) -> dt.date:
    return dt.date(2031 + n % 3, 1 + n % 12, 1 + n % 28)


def journalled(p: Project, n: int) -> tuple[Project, int]:
    """Return the project with the number of one entry of its journal, written first where there is none."""
    made = p if p.journal.entries else journal.write_down(p, "note", date=seen_on(n), note="a mild winter")
    return made, int(pick(made.journal.entries, n).id)


def over(at: Point) -> tuple[Point, Point]:
    """Return a line over the whole plot through a place."""
    return (at[0] - 60.0, at[1] - 7.0), (at[0] + 60.0, at[1] + 7.0)


def thing(p: Project, n: int) -> str:
    return str(pick(site.things(p.site), n).name)


def path(p: Project, n: int) -> str:
    return str(pick(p.structure.paths, n).name)


def bed(p: Project, n: int) -> str:
    return str(pick(layout(p).beds, n).name)


def plant(p: Project, n: int) -> int:
    return int(pick(p.planting.plants, n).number)


def seat(p: Project, n: int) -> str:
    return str(pick(p.structure.seats, n).name)


def support(p: Project, n: int) -> str:
    return str(pick(p.structure.supports, n).name)


def area(p: Project, n: int) -> str:
    return str(pick(p.structure.ground_areas, n).name)


def _added(p: Project, n: int, at: Point) -> tuple[Plant, ...]:
    number = p.planting.last_number + 1
    return (*p.planting.plants, Plant(number=number, species=SOME_KINDS[n % 4], at=at))


BRIEF: dict[str, Tried] = {
    "set_cover": lambda p, n, at: brief.set_cover(p, units="metric" if n % 2 else "imperial"),
    "add_picture": lambda p, n, at: brief.add_picture(p, Picture(file=f"picture {n}.jpg")),
    "change_picture": lambda p, n, at: brief.change_picture(p, pick(p.brief.pictures, n).file, caption=f"no. {n}"),
    "remove_picture": lambda p, n, at: brief.remove_picture(p, pick(p.brief.pictures, n).file),
    "set_style": lambda p, n, at: brief.set_style(p, style(pick(STYLES, n))),
    "begin_style": lambda p, n, at: brief.begin_style(p, pick(STYLES, n)),
    "mix_styles": lambda p, n, at: brief.mix_styles(p, [(pick(STYLES, n), 0.6), (pick(STYLES, n + 1), 0.4)]),
    "add_colour": lambda p, n, at: brief.add_colour(p, pick(("lavender", "#336699", "light coral"), n)),
    "drop_colour": lambda p, n, at: brief.drop_colour(p, pick(p.brief.style.colours, n)),
    "set_materials_most": lambda p, n, at: brief.set_materials_most(p, n % 5),
    "set_forms": lambda p, n, at: brief.set_forms(p, ["spire", "mound", "fountain"][: n % 4]),
    "adjust_style": lambda p, n, at: brief.adjust_style(p, "curving", (n % 11) / 10),
    "set_materials": lambda p, n, at: brief.set_materials(p, ["brick", "gravel", "bark"][: n % 4]),
    "set_signature": lambda p, n, at: brief.set_signature(p, SOME_KINDS[: n % 3]),
    "set_colours": lambda p, n, at: brief.set_colours(p, COLOURS[: n % 4]),
    "add_want": lambda p, n, at: brief.add_want(
        p, Want(text=f"want {n}", check=Check(fact="plant_cost", compare="at most", amount=100.0 * n))
    ),
    "ask_for": lambda p, n, at: brief.ask_for(p, text=f"asked {n}", **asked(p, n)),
    "ask_instead": lambda p, n, at: brief.ask_instead(
        p, n % max(1, len(p.brief.wants)), text=f"instead {n}", **asked(p, n + 7)
    ),
    "take_wants": lambda p, n, at: brief.take_wants(p, [Want(text=f"taken {n}"), *p.brief.wants[:1]]),
    "change_want": lambda p, n, at: brief.change_want(p, n % max(1, len(p.brief.wants)), Want(text=f"changed {n}")),
    "ask_for_less": lambda p, n, at: brief.ask_for_less(p, n % max(1, len(p.brief.wants)), amount=1.0 + n),
    "weigh_want": lambda p, n, at: brief.weigh_want(
        p, n % max(1, len(p.brief.wants)), weight=("must", "should", "could")[n % 3]
    ),
    "move_want": lambda p, n, at: brief.move_want(p, n % max(1, len(p.brief.wants)), to=n // 2),
    "remove_want": lambda p, n, at: brief.remove_want(p, n % max(1, len(p.brief.wants))),
    "add_property_area": lambda p, n, at: brief.add_property_area(p, f"area {n}", outline=square(at, 2.0)),
    "change_property_area": lambda p, n, at: brief.change_property_area(
        made := with_area(p, at), pick(made.areas, n).name, state="built", built=2026 + n % 9
    ),
    "rename_property_area": lambda p, n, at: brief.rename_property_area(
        made := with_area(p, at), pick(made.areas, n).name, to=f"area {n} again"
    ),
    "move_property_area": lambda p, n, at: brief.move_property_area(
        made := with_area(p, at), pick(made.areas, n).name, to=n % 3
    ),
    "move_property_area_corner": lambda p, n, at: brief.move_property_area_corner(
        made := with_area(p, at), pick(made.areas, n).name, n % 4, to=(at[0] + 0.5, at[1] + 0.5)
    ),
    "remove_property_area": lambda p, n, at: brief.remove_property_area(
        made := with_area(p, at), pick(made.areas, n).name
    ),
    "set_refusals": lambda p, n, at: brief.set_refusals(p, ["thorns", "toxic to dogs"][: n % 3]),
    "set_budget": lambda p, n, at: brief.set_budget(p, None if n % 4 == 0 else 500.0 * n),
    "set_money": lambda p, n, at: brief.set_money(p, ("$", "€", "NZ$", "chf")[n % 4]),
    "set_pricing": lambda p, n, at: brief.set_pricing(p, labour_rate=10.0 + n, crew=1 + n % 3, tax=float(n % 20)),
}
SITE: dict[str, Tried] = {
    "set_place": lambda p, n, at: site.set_place(p, y_bearing=9.0 * n),
    "set_boundary": lambda p, n, at: site.set_boundary(p, (*p.site.boundary[:-1], _further(p, n))),
    "move_boundary_corner": lambda p, n, at: site.move_boundary_corner(p, n % len(p.site.boundary), to=_nudged(p, n)),
    "set_underlay": lambda p, n, at: site.set_underlay(
        p, Underlay(pixel_a=(0, 0), pixel_b=(100, 0), plan_a=at, plan_b=(at[0] + 5, at[1])) if n % 2 else None
    ),
    "add_thing": lambda p, n, at: site.add_thing(p, ExistingTree(name=f"tree {n}", at=at, height=6.0, spread=4.0)),
    "add_opening": lambda p, n, at: site.add_opening(p, "gate", f"gate {n}", at=at, width=1.0, sill=0.0, head=2.0),
    "put_up": lambda p, n, at: site.put_up(p, "obstacle", outline=square(at), height=0.5),
    "alter": lambda p, n, at: site.alter(p, pick(p.site.trees, n).name, height=3.0 + n % 9),
    "change_thing": lambda p, n, at: site.change_thing(
        p, pick(p.site.fences, n).name, attrs.evolve(pick(p.site.fences, n), height=1.0 + 0.1 * (n % 9))
    ),
    "set_root_rule": lambda p, n, at: site.set_root_rule(p, pick(ROOT_RULES, n)),
    "rename_thing": lambda p, n, at: site.rename_thing(p, thing(p, n), to=f"thing {n}"),
    "remove_thing": lambda p, n, at: site.remove_thing(p, thing(p, n)),
    "turn_thing": lambda p, n, at: turned(p, n),
    "move_thing": lambda p, n, at: site.move_thing(p, thing(p, n), to=at),
    "move_thing_corner": lambda p, n, at: site.move_thing_corner(p, thing(p, n), n % 2, to=at),
    "set_heights": lambda p, n, at: site.set_heights(p, (*p.site.heights, SpotHeight(at=at, height=0.01 * n))),
    "add_height": lambda p, n, at: site.add_height(p, at=at, height=0.01 * n),
    "change_height": lambda p, n, at: site.change_height(p, n % max(1, len(p.site.heights)), height=0.01 * n),
    "remove_height": lambda p, n, at: site.remove_height(p, n % max(1, len(p.site.heights))),
    "set_survey": lambda p, n, at: site.set_survey(p, Survey(declination=0.5 * n)),
    "set_house_from_survey": lambda p, n, at: site.set_house_from_survey(p, p.site.buildings[0].outline),
    "set_soil": lambda p, n, at: site.set_soil(p, attrs.evolve(p.site.soil, ph=5.0 + 0.1 * (n % 30))),
    "change_soil": lambda p, n, at: site.change_soil(p, drainage_mm_per_hour=float(n)),
    "set_climate": lambda p, n, at: site.set_climate(p, attrs.evolve(p.site.climate, heat_days=float(n))),
    "change_climate": lambda p, n, at: site.change_climate(p, zone=f"{5 + n % 5}b"),
    "add_seen": lambda p, n, at: site.add_seen(
        p, at=at, date=dt.date(2026, 6, 1 + n % 28), start=dt.time(9), end=dt.time(11), sunny=n % 2 == 0
    ),
    "change_seen": lambda p, n, at: site.change_seen(p, n % max(1, len(p.site.diary)), note=f"seen {n}"),
    "remove_observation": lambda p, n, at: site.remove_observation(p, n % max(1, len(p.site.diary))),
}
PHOTOS: dict[str, Tried] = {
    "add_photo": lambda p, n, at: photos.add_photo(p, f"photo {n}", file=f"photo_{n}.jpg", wide=1600, high=1200),
    "change_photo": lambda p, n, at: photos.change_photo(with_photo(p), "tried", angle=None if n % 2 else 60.0 + n % 9),
    "mark_photo": lambda p, n, at: photos.mark_photo(with_photo(p), "tried", spotted(n, at)),
    "remove_mark": lambda p, n, at: photos.remove_mark(
        photos.mark_photo(with_photo(p), "tried", spotted(n, at)), "tried", spotted(n, at).name
    ),
    "outline_in_front": lambda p, n, at: photos.outline_in_front(
        with_photo(p), "tried", ((0, 0), (9 + n, 0), (9, 9)), of=pick(p.site.trees, n).name if n % 2 else ""
    ),
    "remove_outlines": lambda p, n, at: photos.remove_outlines(with_photo(p), "tried"),
    "remove_photo": lambda p, n, at: photos.remove_photo(with_photo(p), "tried"),
}
PLANTING: dict[str, Tried] = {
    "add_crop": lambda p, n, at: planting.add_crop(cropped(p, n), CROPS[n % 3], bed(p, n), year=1 + n % 3),
    "change_crop": lambda p, n, at: planting.change_crop(cropped(p, n), 0, share=0.5, species=CROPS[n % 3]),
    "remove_crop": lambda p, n, at: planting.remove_crop(cropped(p, n), 0),
    "rotate_crops": lambda p, n, at: planting.rotate_crops(cropped(cropped(p, n), n + 1)),
    "add_plants": lambda p, n, at: planting.add_plants(p, kind(n), [at], year=n % 3),
    "add_to_bed": lambda p, n, at: planting.add_to_bed(p, bed(p, n), kind(n)),
    "fill_bed": lambda p, n, at: planting.fill_bed(p, bed(p, n), kind(n), spacing=1.2),
    "move_plant": lambda p, n, at: planting.move_plant(p, plant(p, n), to=at),
    "move_plants": lambda p, n, at: planting.move_plants(p, several(p, n), by=(0.1, 0.1 * (n % 5))),
    "align_plants": lambda p, n, at: planting.align_plants(p, several(p, n)),
    "spread_plants": lambda p, n, at: planting.spread_plants(p, several(p, n)),
    "duplicate_plants": lambda p, n, at: planting.duplicate_plants(p, several(p, n), by=(0.2, -0.1 * (n % 4))),
    "move_group": lambda p, n, at: planting.move_group(p, plant(p, n), to=at),
    "group_plants": lambda p, n, at: planting.group_plants(p, several(p, n)),
    "ungroup_plants": lambda p, n, at: planting.ungroup_plants(planting.group_plants(p, several(p, n)), several(p, n)),
    "mirror_plants": lambda p, n, at: planting.mirror_plants(p, several(p, n), axis=(at, (at[0] + 1.0, at[1] + n % 3))),
    "copy_plants_to_bed": lambda p, n, at: planting.copy_plants_to_bed(p, several(p, n), bed(p, n)),
    "fill_drift": lambda p, n, at: planting.fill_drift(p, (at, (at[0] + 1.5, at[1]), (at[0], at[1] + 1.5)), kind(n)),
    "swap_plants": lambda p, n, at: planting.swap_plants(p, plant(p, n), kind(n)),
    "swap_kind": lambda p, n, at: planting.swap_kind(p, pick(p.planting.plants, n).species, kind(n)),
    "remove_plants": lambda p, n, at: planting.remove_plants(p, plant(p, n)),
    "set_plant_years": lambda p, n, at: planting.set_plant_years(
        p, plant(p, n), year=n % 3, until=n % 3 + n % 4 if n % 5 else None
    ),
    "lock_plants": lambda p, n, at: planting.lock_plants(p, plant(p, n), locked=n % 3 > 0),
    "multiply_plant": lambda p, n, at: planting.multiply_plant(p, plant(p, n), 2, spacing=0.4),
    "plant_divisions": lambda p, n, at: planting.plant_divisions(
        planting.add_plants(p, DIVIDED, [at]), DIVIDED, [(at[0] + 0.5, at[1])], year=int(divided_every(DIVIDED) or 0)
    ),
    "accept_plants": lambda p, n, at: planting.accept_plants(p, [_added(p, n, at)[-1]]),
    "use_arrangement": lambda p, n, at: planting.use_arrangement(p, _added(p, n, at)),
    "clear_plants": lambda p, n, at: planting.clear_plants(p) if n == 13 else p,  # rarely, or nothing is left to try
    "set_palette": lambda p, n, at: planting.set_palette(p, SOME_KINDS[: 1 + n % 4]),
    "add_to_palette": lambda p, n, at: planting.add_to_palette(p, SOME_KINDS[n % 4]),
    "remove_from_palette": lambda p, n, at: planting.remove_from_palette(p, pick(p.planting.palette, n)),
    "keep_kind": lambda p, n, at: planting.keep_kind(p, pick(p.planting.palette, n)),
    "release_kind": lambda p, n, at: planting.release_kind(p, pick(p.planting.favourites, n)),
    "set_price": lambda p, n, at: planting.set_price(p, pick(p.planting.plants, n).species, float(n)),
    "judge_light_by": lambda p, n, at: planting.judge_light_by(p, LIGHT_BY[n % 2]),
    "set_first_year": lambda p, n, at: planting.set_first_year(p, 2026 + n % 3),
}
PATHS: dict[str, Tried] = {
    "add_path": lambda p, n, at: structure.add_path(
        p, f"way {n}", start=pick(structure.places(p), n), end=pick(structure.places(p), n + 1)
    ),
    "remove_path": lambda p, n, at: structure.remove_path(p, path(p, n)),
    "rename_path": lambda p, n, at: structure.rename_path(p, path(p, n), to=f"walk {n}"),
    "change_path": lambda p, n, at: structure.change_path(
        p, path(p, n), width=0.6 + 0.05 * (n % 15), surface=pick(SURFACES, n)
    ),
    "lay_stones": lambda p, n, at: structure.lay_stones(p, path(p, n), seed=n),
    "shuffle_stones": lambda p, n, at: structure.shuffle_stones(p, path(p, n)),
    "set_pallet": lambda p, n, at: structure.set_pallet(p, path(p, n), [(5 + n, 0.4, 0.3)] if n % 2 else []),
    "use_route": lambda p, n, at: structure.use_route(
        p,
        path(p, n),
        curvature=(n % 10) / 10,
        sway=n % 3,
        first_side="left" if n % 2 else "right",
        line=pick(("fair curves", "along one side", None), n),
    ),
    "pin_path": lambda p, n, at: structure.pin_path(p, path(p, n)),
    "pin_stones": lambda p, n, at: structure.pin_stones(p, path(p, n)),
    "unpin": lambda p, n, at: structure.unpin(p, path(p, n)),
    "unpin_point": lambda p, n, at: structure.unpin_point(p, path(p, n), 0),
    "unpin_stone": lambda p, n, at: structure.unpin_stone(p, path(p, n), n % 5),
    "move_point": lambda p, n, at: structure.move_point(p, path(p, n), 0, to=at),
    "add_point": lambda p, n, at: structure.add_point(p, path(p, n), at=at),
    "move_stone": lambda p, n, at: structure.move_stone(p, path(p, n), n % 5, to=at),
    "turn_stone": lambda p, n, at: structure.turn_stone(p, path(p, n), n % 5, degrees=9.0 * n),
    "add_cut_stone": lambda p, n, at: structure.add_cut_stone(p, square(_on_path(p, n), 0.2), name=f"cut {n}"),
    "move_cut_stone": lambda p, n, at: structure.move_cut_stone(p, _cut_stone(p, n), to=_on_path(p, n)),
    "turn_cut_stone": lambda p, n, at: structure.turn_cut_stone(p, _cut_stone(p, n), degrees=9.0 * n),
    "remove_cut_stone": lambda p, n, at: structure.remove_cut_stone(p, _cut_stone(p, n)),
    "add_flight": lambda p, n, at: structure.add_flight(p, path(p, n), start=0.5, end=1.5 + 0.1 * n),
    "change_flight": lambda p, n, at: structure.change_flight(p, path(p, n), 0, end=2.0 + 0.1 * n),
    "light_path": lambda p, n, at: structure.light_path(p, pick(p.structure.paths, n).name, every=4.0 + n % 3),
    "add_turn": lambda p, n, at: structure.add_turn(
        p, path(p, n), pick(structure.turns_for(p, path(p, n)), n), hand=pick(("", "left", "right"), n)
    ),
    "change_turn": lambda p, n, at: structure.change_turn(p, path(p, n), 0, hand=pick(("", "left", "right"), n)),
    "remove_turn": lambda p, n, at: structure.remove_turn(p, path(p, n), 0),
    "remove_flight": lambda p, n, at: structure.remove_flight(p, path(p, n), 0),
}
BEDS: dict[str, Tried] = {
    "change_bed": lambda p, n, at: structure.change_bed(p, bed(p, n), soil=f"soil {n}"),
    "rename_bed": lambda p, n, at: structure.rename_bed(p, bed(p, n), to=f"border {n}"),
    "clear_bed_name": lambda p, n, at: structure.clear_bed_name(p, bed(p, n)),
    "reach_bed": lambda p, n, at: structure.reach_bed(p, bed(p, n)),
    "draw_bed": lambda p, n, at: structure.draw_bed(p, square(at), name=f"drawn {n}"),
    "pocket_round": lambda p, n, at: structure.pocket_round(
        p, CATALOGUE["Amelanchier laevis"], at=at, path="" if n % 2 else path(p, n)
    ),
    "draw_bed_corners": lambda p, n, at: structure.draw_bed_corners(p, bed(p, n)),
    "reset_bed": lambda p, n, at: structure.reset_bed(p, bed(p, n)),
    "move_bed": lambda p, n, at: structure.move_bed(p, _drawn(p, n), to=at),
    "move_bed_corner": lambda p, n, at: structure.move_bed_corner(p, _drawn(p, n), 0, to=at),
    "add_bed_corner": lambda p, n, at: structure.add_bed_corner(p, _drawn(p, n), 0, at=at),
    "split_bed": lambda p, n, at: structure.split_bed(p, bed(p, n), over(_middle(p, n))),
    "join_beds": lambda p, n, at: structure.join_beds(p, bed(p, n), bed(p, n + 1)),
    "move_cut": lambda p, n, at: structure.move_cut(p, n % max(1, len(p.structure.cuts)), 0, to=at),
    "remove_cut": lambda p, n, at: structure.remove_cut(p, n % max(1, len(p.structure.cuts))),
}
LEVELS: dict[str, Tried] = {
    "add_note": lambda p, n, at: structure.add_note(
        p, pick(LEAST_POINTS, n), line=square(at, 0.5)[: 3 if n % 2 else 4], text=f"words {n}"
    ),
    "change_note": lambda p, n, at: structure.change_note(*noted(p, n, at), text=f"said {n}"),
    "move_note": lambda p, n, at: structure.move_note(*noted(p, n, at), to=at),
    "move_note_point": lambda p, n, at: structure.move_note_point(*noted(p, n, at), 0, to=at),
    "remove_note": lambda p, n, at: structure.remove_note(*noted(p, n, at)),
    "add_level": lambda p, n, at: structure.add_level(
        p, at=at, height=0.05 * (n % 9), outline=square(at, 0.8) if n % 2 else (), edge="wall" if n % 3 else "bank"
    ),
    "change_level": lambda p, n, at: structure.change_level(*leveled(p, n, at), fall=0.5 * (n % 7), falls_to=30.0 * n),
    "move_level": lambda p, n, at: structure.move_level(*leveled(p, n, at), to=at),
    "rename_level": lambda p, n, at: structure.rename_level(*leveled(p, n, at), to=f"ground {n}"),
    "remove_level": lambda p, n, at: structure.remove_level(*leveled(p, n, at)),
    "take_way": lambda p, n, at: structure.take_way(p, attrs.evolve(pick(p.structure.paths, n), name=f"taken {n}")),
    "grade_path": lambda p, n, at: structure.grade_path(p, path(p, n), heights=[(0, 0.0), (1, 0.02 * n)] * (n % 2)),
}
STANDING: dict[str, Tried] = {
    "lay_cable": lambda p, n, at: structure.lay_cable(p, bent(at)),
    "rename_cable": lambda p, n, at: structure.rename_cable(
        made := structure.lay_cable(p, bent(at)), made.structure.cables[-1].name, to=f"cable {n}"
    ),
    "remove_cable": lambda p, n, at: structure.remove_cable(
        made := structure.lay_cable(p, bent(at)), made.structure.cables[-1].name
    ),
    "add_along": lambda p, n, at: structure.add_along(p, "box edging", bent(at)),
    "round_corners": lambda p, n, at: structure.round_corners(
        made := structure.add_along(p, "box edging", bent(at)), made.structure.things[-1].name
    ),
    "add_area": lambda p, n, at: structure.add_area(p, pick(GROUND_AREAS, n), outline=square(at, 0.5 + 0.05 * n)),
    "change_area": lambda p, n, at: structure.change_area(p, area(p, n), kind=pick(GROUND_AREAS, n)),
    "move_area": lambda p, n, at: structure.move_area(p, area(p, n), to=at),
    "move_area_corner": lambda p, n, at: structure.move_area_corner(p, area(p, n), 0, to=at),
    "remove_area": lambda p, n, at: structure.remove_area(p, area(p, n)),
    "rename_area": lambda p, n, at: structure.rename_area(p, area(p, n), to=f"area {n}"),
    "simplify_area": lambda p, n, at: structure.simplify_area(p, area(p, n)),
    "add_seat": lambda p, n, at: structure.add_seat(p, f"place {n}", at=at),
    "change_seat": lambda p, n, at: structure.change_seat(p, seat(p, n), facing=9.0 * n),
    "move_seat": lambda p, n, at: structure.move_seat(p, seat(p, n), to=at),
    "remove_seat": lambda p, n, at: structure.remove_seat(p, seat(p, n)),
    "rename_seat": lambda p, n, at: structure.rename_seat(p, seat(p, n), to=f"seat {n}"),
    "turn_seat": lambda p, n, at: structure.turn_seat(p, seat(p, n), facing=9.0 * n),
    "add_support": lambda p, n, at: structure.add_support(p, f"climb {n}", pick(SUPPORTS, n), at=at),
    "change_support": lambda p, n, at: structure.change_support(p, support(p, n), height=1.5 + 0.1 * (n % 15)),
    "move_support": lambda p, n, at: structure.move_support(p, support(p, n), to=at),
    "move_support_end": lambda p, n, at: structure.move_support_end(p, support(p, n), n % 2, to=at),
    "remove_support": lambda p, n, at: structure.remove_support(p, support(p, n)),
    "rename_support": lambda p, n, at: structure.rename_support(p, support(p, n), to=f"s {n}"),
    "set_frost_depth": lambda p, n, at: structure.set_frost_depth(p, 0.1 * (n % 13)),
    "set_post_rule": lambda p, n, at: structure.set_post_rule(p, pick(POST_RULES, n)),
    "keep_alternative": lambda p, n, at: structure.keep_alternative(p, f"idea {n}"),
    "use_alternative": lambda p, n, at: structure.use_alternative(p, pick(p.alternatives, n).name),
    "rename_alternative": lambda p, n, at: structure.rename_alternative(
        p, pick(p.alternatives, n).name, to=f"other {n}"
    ),
    "delete_alternative": lambda p, n, at: structure.delete_alternative(p, pick(p.alternatives, n).name),
}
HANDOVER: dict[str, Tried] = {
    "set_office": lambda p, n, at: handover.set_office(p, company=f"office {n}", contact=f"number {n}"),
    "set_revision": lambda p, n, at: handover.set_revision(p, f"P{n % 90}"),
    "set_issued": lambda p, n, at: handover.set_issued(p, dt.date(2026, 1 + n % 12, 3) if n % 2 else None),
    "accept": lambda p, n, at: handover.accept(p, where=f"place {n % 3}", what="stands", reason=f"because {n}"),
    "reopen": lambda p, n, at: handover.reopen(accepting(p, n), where=f"place {n % 3}", what="stands"),
}
JOURNAL: dict[str, Tried] = {
    "write_down": lambda p, n, at: journal.write_down(
        p, ("flowered", "measured", "note")[n % 3], date=seen_on(n), number=plant(p, n), height=0.1 + 0.01 * n
    ),
    "died": lambda p, n, at: journal.died(p, plant(p, n), date=seen_on(n), note="wet feet"),
    "moved": lambda p, n, at: journal.moved(p, plant(p, n), to=at, date=seen_on(n)),
    "came": lambda p, n, at: journal.came(p, kind(n), date=seen_on(n), bed=bed(p, n)),
    "divided": lambda p, n, at: journal.divided(p, plant(p, n), into=2, apart=0.3, date=seen_on(n)),
    "replaced": lambda p, n, at: journal.replaced(p, plant(p, n), by=kind(n), date=seen_on(n)),
    "change_entry": lambda p, n, at: journal.change_entry(*journalled(p, n), note=f"seen {n}", next_year="watch"),
    "remove_entry": lambda p, n, at: journal.remove_entry(*journalled(p, n)),
    "correct": lambda p, n, at: journal.correct(p, SOME_KINDS[n % 4], days=float(n % 9), growth=1.0 + 0.02 * n),
    "take_back": lambda p, n, at: journal.take_back(
        journal.correct(p, SOME_KINDS[n % 4], days=20.0), SOME_KINDS[n % 4]
    ),
}
TRIED = MappingProxyType(BRIEF | SITE | PHOTOS | PLANTING | PATHS | BEDS | LEVELS | STANDING | HANDOVER | JOURNAL)


def _further(p: Project, n: int) -> Point:
    x, y = p.site.boundary[-1]
    return x + 0.02 * n, y + 0.01 * n


def _nudged(p: Project, n: int) -> Point:
    x, y = p.site.boundary[n % len(p.site.boundary)]
    return x + 0.1 * (n % 5 - 2), y + 0.1 * (n % 7 - 3)


def _drawn(p: Project, n: int) -> str:
    return str(pick((b for b in p.structure.beds if b.outline), n).name)


def _middle(p: Project, n: int) -> Point:
    at: Point = pick(layout(p).beds, n).at
    return at


def _on_path(p: Project, n: int) -> Point:
    curve = pick(layout(p).routes.values(), n).curve.points
    x, y = curve[len(curve) // 2]
    return float(x), float(y)


def _cut_stone(p: Project, n: int) -> str:
    return str(pick((stone for one in p.structure.paths for stone in one.cut_stones), n).name)
