"""A photo of the site in an edition: before and after under one slider, with no network; a lost one is left out."""

from pathlib import Path

import attrs
import numpy as np
from PIL import Image

from gardenkit.garden import Garden
from gardenkit.handover import booklet
from gardenkit.project import Project
from gardenkit.project.photo_spots import spots
from gardenkit.site.photo_camera import Pose, pixels_of
from gardenkit.site.site_photos import PhotoMark, SitePhoto

POSE = Pose(eye=(3.0, 1.0, 1.6), towards=10.0, lean=-4.0, roll=0.5, angle=70.0)
SIZE = (320, 240)


def test_an_edition_shows_the_place_before_and_after(plain_garden: Project, tmp_path: Path) -> None:
    known = spots(plain_garden) | {"peg": (5.0, 4.0, 0.0), "rod": (3.5, 3.0, 0.8), "post": (2.0, 5.0, 1.5)}
    seen = pixels_of(POSE, SIZE, np.array(list(known.values()))).tolist()
    marks = [
        PhotoMark(name=name, pixel=(x, y), at=spot[:2], height=spot[2])
        for (name, spot), (x, y) in zip(known.items(), seen, strict=True)
        if 0 < x < SIZE[0] and 0 < y < SIZE[1]
    ]
    photo = SitePhoto(name="from the gate", file="gate.jpg", wide=SIZE[0], high=SIZE[1], marks=tuple(marks))
    lost = attrs.evolve(photo, name="from the road", file="road.jpg")
    project = attrs.evolve(plain_garden, site=attrs.evolve(plain_garden.site, photos=(photo, lost)))
    (tmp_path / "site_photos").mkdir()
    Image.new("RGB", SIZE, "#8899aa").save(tmp_path / "site_photos" / "gate.jpg")
    html = booklet.render(Garden(project, tmp_path), edition="office", with_sun=False)
    assert html.count('class="before-after"') == 1 and "from the gate: the place as it is" in html
    assert "http" not in html[html.index('class="before-after"') :][:2000]
    assert "from the road" not in html
