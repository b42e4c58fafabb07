"""Which permits a garden asks about: said in one place, each once, naming all it is about."""

from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.site.site import Fence, Site
from gardenkit.structure.structure import Structure, Support, Thing

SITE = Site(
    boundary=((0, 0), (20, 0), (20, 20), (0, 20)),
    fences=(Fence(name="old wall", kind="retaining wall", line=((1, 1), (5, 1)), height=1.0),),
)
LIGHTS = tuple(
    Thing(name=f"light {n}", kind="path light", at=(3.0 + 3 * n, 10.0), width=0.16, depth=0.16, height=0.46)
    for n in range(3)
)
FENCE = Support(name="new fence", kind="fence", line=((2.0, 15.0), (9.0, 15.0)), height=1.8, openness=0.0)


def test_each_permit_is_asked_about_once_and_names_all_it_is_about() -> None:
    project = Project(name="plot", site=SITE, structure=Structure(things=LIGHTS, supports=(FENCE,)))
    asked = [found for found in layout(project).findings if found.topic == "permit"]
    sockets = [found for found in asked if "socket" in found.what]
    assert [found.where for found in sockets] == ["light 0, light 1, light 2"]
    (fence,) = [found for found in asked if found.where == "new fence" and "fence" in found.what]
    assert "may need a permit" in fence.what
    (wall,) = [found for found in asked if found.where == "old wall" and "permit" in found.what]
    assert wall.at == (1, 1)
    assert len(asked) == len({(found.where, found.what) for found in asked})
