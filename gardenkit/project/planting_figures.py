"""The planting in figures: what stands left and right of each path, how varied it is, what winter has to offer."""

from collections.abc import Sequence
from functools import lru_cache

import attrs

from gardenkit.planting.balance import REACH, contrast, evergreen_share, mass_beside, texture_shares
from gardenkit.planting.bloom import WinterRow, winter_rows
from gardenkit.planting.catalogue import Catalogue
from gardenkit.planting.catalogue_columns import CASTS_SHADE
from gardenkit.planting.diversity import RANKS, SHARE_RULES, Diversity, diversity, greatest_shares
from gardenkit.planting.standing import in_reach, standing
from gardenkit.project import Project
from gardenkit.project.advice import kinds, planted
from gardenkit.project.layout import layout
from gardenkit.project.season import local_months, spring_shift

YEARS = (1, 5, 15)
SEASONS = {"winter": 1, "spring": 4, "summer": 7, "autumn": 10}  # a month of the northern year for each


@attrs.frozen(kw_only=True)
class Sides:
    """The share of visual mass left of one path in one year, by season, walking from its start; None: nothing."""

    path: str
    year: int
    left: dict[str, float | None]


@attrs.frozen(kw_only=True)
class Share:
    """The commonest species, genus or family of the woody plants: its share, and what the 10-20-30 rule allows."""

    rank: str
    name: str
    share: float
    most: float


@attrs.frozen(kw_only=True)
class Figures:
    """A planting in figures; shares 0 to 1. ``woody`` is how many plants the rule of shares looks at."""

    evergreen: float
    evergreen_mass: float
    texture_contrast: float
    form_contrast: float
    neighbours: int
    textures: dict[str, float]
    diversity: Diversity
    shares: tuple[Share, ...]
    woody: int


def sides(project: Project, catalogue: Catalogue, *, years: Sequence[int] = YEARS) -> tuple[Sides, ...]:
    """Return what stands left and right of every path in some years, in all four seasons."""
    plants, shift = planted(project, catalogue), spring_shift(project.site)
    standing_in = lru_cache(lambda year: standing(plants, year))
    found = []
    for name, route in layout(project).routes.items():
        way = tuple((float(x), float(y)) for x, y in route.curve.points[::10])
        for year in years:
            grown = in_reach(standing_in(year), way, float(REACH))
            left: dict[str, float | None] = {}
            for season, month in SEASONS.items():
                mass = mass_beside(grown, way, month, shift_days=shift)
                left[season] = mass.left_share if mass.left + mass.right > 0 else None
            found.append(Sides(path=name, year=year, left=left))
    return tuple(found)


def figures(project: Project, catalogue: Catalogue, *, year: int = 10) -> Figures | None:
    """Return the planting of a year in figures, None without plants."""
    plants = planted(project, catalogue)
    grown = standing(plants, year)
    if not grown:
        return None
    woody = [species for _, species in plants if species.layer in CASTS_SHADE]
    tops, seen = greatest_shares(woody), contrast(grown)
    shares = tuple(
        Share(rank=rank, name=tops[rank][0], share=tops[rank][1], most=most)
        for rank, most in zip(RANKS, SHARE_RULES["10-20-30"], strict=True)
        if rank in tops
    )
    return Figures(
        evergreen=evergreen_share(grown),
        evergreen_mass=evergreen_share(grown, by="mass"),
        texture_contrast=seen.texture,
        form_contrast=seen.form,
        neighbours=seen.pairs,
        textures=texture_shares([one.species for one in grown]),
        diversity=diversity(kinds(plants).values()),
        shares=shares,
        woody=len(woody),
    )


def winter(project: Project, catalogue: Catalogue) -> tuple[WinterRow, ...]:
    """Return what each kind gives in winter, its months turned to this garden's year."""
    rows = winter_rows(kinds(planted(project, catalogue)), shift_days=spring_shift(project.site))
    site = project.site
    return tuple(
        attrs.evolve(row, fruit=local_months(site, row.fruit), flowers=local_months(site, row.flowers)) for row in rows
    )
