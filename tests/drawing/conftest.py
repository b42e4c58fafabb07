"""A small invented garden for the drawing tests."""

import attrs
import pytest

from gardenkit.drawing.plan import PathDrawn
from gardenkit.drawing.symbols import PlantDrawn
from gardenkit.geometry import plane
from gardenkit.geometry.plane import Region
from gardenkit.site.openings import Opening
from gardenkit.site.site import Building, ExistingTree, Fence, Site
from gardenkit.structure.structure import GroundArea, Seat, Support

KINDS = (
    ("SAL", "Salvia nemorosa", "clump", 0.5, 0.45, "#7d9166", "#5b4a9a"),
    ("NEP", "Nepeta × faassenii", "mound", 0.5, 0.6, "#9aab8f", None),
    ("FES", "Festuca glauca", "fountain", 0.3, 0.3, "#9fb0b0", None),
    ("ECH", "Echinacea pallida", "upright", 1.0, 0.4, "#7f9a5f", "#d28ab4"),
    ("HEU", "Heuchera villosa", "rosette", 0.4, 0.45, "#8a5a4a", None),
)


@attrs.frozen(kw_only=True)
class Drawn:
    """The garden's parts, as ``plan_scene`` takes them."""

    site: Site
    paths: tuple[PathDrawn, ...]
    beds: tuple[tuple[str, Region], ...]
    ground_areas: tuple[GroundArea, ...]
    seats: tuple[Seat, ...]
    supports: tuple[Support, ...]
    plants: tuple[PlantDrawn, ...]

    def parts(self) -> dict[str, object]:
        return {field.name: getattr(self, field.name) for field in attrs.fields(Drawn)}


def box(x0: float, y0: float, x1: float, y1: float) -> tuple[tuple[float, float], ...]:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


@pytest.fixture(scope="session")
def garden() -> Drawn:
    house = Building(name="House", outline=((0, 8), (6, 8), (6, 10), (9, 10), (9, 13), (0, 13)))
    site = Site(
        boundary=((0, 0), (18, 0), (18, 11), (14, 13), (0, 13)),
        y_bearing=20.0,
        buildings=(house,),
        openings=(
            Opening(name="side door", kind="door", start=(7.0, 10.0), end=(7.9, 10.0)),
            Opening(name="kitchen window", kind="window", start=(1.0, 8.0), end=(2.6, 8.0), sill=0.9),
            Opening(name="gate", kind="gate", start=(15.0, 0.0), end=(16.2, 0.0)),
        ),
        fences=(Fence(name="east fence", line=((18, 0), (18, 11))),),
        trees=(ExistingTree(name="Old apple", at=(4.0, 4.5), height=5.0, spread=4.0),),
    )
    path = plane.grown(plane.line([(15.6, 0.0), (13.0, 5.0), (7.5, 9.9)]), 0.45, round_ends=False)
    stones = tuple((f"stone {k}", box(13 - 0.6 * k, 5 + 0.5 * k, 13.5 - 0.6 * k, 5.4 + 0.5 * k)) for k in range(8))
    south = plane.region(box(6.5, 0.2, 14.3, 2.4))
    east = plane.difference(plane.region(box(15.0, 3.0, 17.8, 10.5)), path)
    plants = []
    for n in range(60):
        key, name, form, height, spread, foliage, flower = KINDS[(n // 4) % 5]
        at = (6.9 + 0.49 * (n % 15), 0.5 + 0.5 * (n // 15))
        plants.append(
            PlantDrawn(
                number=n + 1,
                key=key,
                name=name,
                at=at,
                height=height,
                spread=spread,
                form=form,
                foliage=foliage,
                flower=flower,
            )
        )
    return Drawn(
        site=site,
        paths=(PathDrawn(name="gate path", region=path, stones=stones),),
        beds=(("South bed", south), ("East bed", east)),
        ground_areas=(GroundArea(name="Lawn", kind="lawn", outline=box(7.0, 3.0, 10.0, 6.0)),),
        seats=(Seat(name="bench", at=(2.0, 7.0), facing=180.0),),
        supports=(Support(name="rose arch", kind="arch", line=((15.0, 1.5), (16.5, 1.6)), depth=0.6),),
        plants=tuple(plants),
    )
