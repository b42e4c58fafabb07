"""A small garden in which every kind of thing that has a name bears one that would run, somewhere, if it were let."""

from pathlib import Path

from gardenkit import storage
from gardenkit.brief.brief import Brief
from gardenkit.brief.wants import Want
from gardenkit.garden import Garden
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.project.edits import handover
from gardenkit.project.edits import structure as bones
from gardenkit.site.openings import Opening
from gardenkit.site.place import Place
from gardenkit.site.site import Building, ExistingTree, Fence, Site
from gardenkit.structure.structure import Bed, GroundArea, Seat, Structure, Support
from gardenkit.structure.structure import Path as GardenPath

LONG = "very " * 39 + "long"  # 199 letters; 200 are the most
TEXT_TABS = "=A1\tB1\n@SUM(C1)"
HOSTILE = {
    "house": '=HYPERLINK("http://example.invalid","house")',
    "gate": "<script>alert(1)</script>",
    "door": "</script><img src=x onerror=alert(2)>",
    "walk": '+1+1, walk; a "b" \\n c',
    "west": "@SUM(A1:A9)",
    "lawn": "-2+3 ]]> --> <!-- {{ 7*7 }} ${1}",
    "seat": "&lt;b&gt; &amp; 'seat'",
    "arch": LONG,
    "fence": "BEGIN:VEVENT\\;END:VCALENDAR",
    "tree": '" onmouseover="alert(3)" x="',
    "garden": '=1+1 <script>alert(4)</script>; a, b: "c"',
    "want": TEXT_TABS,
}
BENIGN = {key: key for key in HOSTILE}


def garden_of(names: dict[str, str], folder: Path) -> Garden:
    """Return a small plot where every kind of thing that has a name bears one of ``names``."""
    ring = ((0.0, 0.0), (12.0, 0.0), (12.0, 10.0), (0.0, 10.0))
    site = Site(
        place=Place(name=names["garden"], latitude=-41.2, longitude=173.1, timezone="Pacific/Auckland"),
        boundary=ring,
        buildings=(Building(name=names["house"], outline=((0.0, 8.0), (12.0, 8.0), (12.0, 10.0), (0.0, 10.0))),),
        openings=(
            Opening(name=names["gate"], kind="gate", start=(5.5, 0), end=(6.5, 0)),
            Opening(name=names["door"], kind="door", start=(5.5, 8), end=(6.5, 8), on=names["house"]),
        ),
        fences=(Fence(name=names["fence"], line=((0.0, 0.0), (0.0, 8.0))),),
        trees=(ExistingTree(name=names["tree"], at=(10.5, 6.0), height=4.0, spread=2.0),),
    )
    structure = Structure(
        paths=(
            GardenPath(name=names["walk"], start=names["gate"], end=names["door"], curvature=0.0, surface="gravel"),
        ),
        beds=(Bed(name=names["west"], at=(1, 4)),),
        ground_areas=(
            GroundArea(name=names["lawn"], kind="lawn", outline=((8.0, 1.0), (11.0, 1.0), (11.0, 3.0), (8.0, 3.0))),
        ),
        seats=(Seat(name=names["seat"], at=(9.0, 4.5)),),
        supports=(Support(name=names["arch"], kind="arch", line=((5.0, 3.0), (7.0, 3.0))),),
    )
    planting = Planting(plants=(Plant(number=1, species="Salvia nemorosa", at=(1, 3), note=names["want"]),))
    brief = Brief(wants=(Want(text=names["want"]),), currency=names["tree"][:4])
    who = {"name": names["garden"], "client": names["gate"], "designer": names["house"]}
    project = Project(**who, units="metric", site=site, structure=structure, planting=planting, brief=brief)
    project = bones.keep_alternative(project, names["seat"])
    for line in Garden(project, folder).open_warnings:  # with them the client edition would not be written
        project = handover.accept(project, where=line.where, what=line.what, reason=names["door"])
    storage.create(folder, project)  # what cannot be saved cannot reach a document
    return Garden.open(folder)
