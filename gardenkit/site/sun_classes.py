"""Full sun, part sun, shade: what hours of direct sun are called. Publishers disagree, so each set has its name and its
source.

Many sets leave bands unnamed (5 to 6 hours, say). Each setting here says in ``unnamed`` what it does there, so every
number of hours has exactly one class, and more sun never gives a shadier one.
"""

from typing import Literal

import attrs
import numpy as np
from numpy.typing import NDArray

from gardenkit.findings import GardenError, nearest
from gardenkit.geometry.plane import FloatArray
from gardenkit.sources import COMMON, MEMORY

PlantSun = Literal["full", "part", "shade"]
DEFAULT = "full sun 6 h and more"
MOST = 24.0  # hours in a day


@attrs.frozen(kw_only=True)
class SunClass:
    """One class: its publisher's ``name``, least hours ``from_hours`` (``above`` true: strictly more), and the
    catalogue's word.
    """

    name: str
    from_hours: float
    plants: PlantSun
    above: bool = False

    def reached(self, hours: FloatArray) -> NDArray[np.bool_]:
        """Return whether the hours are enough for this class."""
        return np.asarray(hours > self.from_hours if self.above else hours >= self.from_hours)

    def holds(self, hours: float) -> bool:
        """Return the same of one number of hours."""
        return hours > self.from_hours if self.above else hours >= self.from_hours


@attrs.frozen(kw_only=True)
class SunClasses:
    """A publisher's classes from the shadiest up, with ``source``, and what is done where the publisher names
    nothing.
    """

    name: str
    classes: tuple[SunClass, ...]
    source: str
    unnamed: str


def _set(name: str, source: str, unnamed: str, *classes: SunClass) -> SunClasses:
    return SunClasses(name=name, classes=classes, source=source, unnamed=unnamed)


def _class(name: str, from_hours: float, plants: PlantSun, *, above: bool = False) -> SunClass:
    return SunClass(name=name, from_hours=from_hours, plants=plants, above=above)


SUN_CLASSES: dict[str, SunClasses] = {
    s.name: s
    for s in (
        _set(
            "full sun 6 h and more",
            "nursery trade, plant labels: full 6 h or more, part 3 to 6 h, shade under 3 h",
            "nothing is unnamed; part sun and part shade share 3 to 6 h and are told apart only by shade at midday",
            _class("full shade", 0, "shade"),
            _class("part sun or part shade", 3, "part"),
            _class("full sun", 6, "full"),
        ),
        _set(
            "full sun over 6 h",
            "nursery trade, plant labels: full over 6 h, part 4 to 6 h, shade under 4 h",
            "nothing is unnamed; part sun (some afternoon sun) and part shade (morning or evening) share 4 to 6 h",
            _class("full shade", 0, "shade"),
            _class("part sun or part shade", 4, "part"),
            _class("full sun", 6, "full", above=True),
        ),
        _set(
            "Nebraska Extension",
            "Nebraska Extension, Lancaster County (S. Browning), lancaster.unl.edu, right plant right place",
            "5 to 6 h is counted as light shade, the next class below; over 0 and under 3 h is less than light shade",
            _class("full shade", 0, "shade"),
            _class("less than light shade", 0, "shade", above=True),
            _class("light shade", 3, "part"),
            _class("full sun", 6, "full"),
        ),
        _set(
            "Central Michigan University",
            "Central Michigan University greenhouse (K. Johnson, 2023)",
            "5 to 6 h is counted as part sun or part shade, the next class below",
            _class("full shade", 0, "shade"),
            _class("part sun or part shade", 3, "part"),
            _class("full sun", 6, "full"),
        ),
        _set(
            "newspaper column",
            f"newspaper garden column ({COMMON})",
            "6 h and more is not named by the column and is counted as full sun",
            _class("full shade", 0, "shade"),
            _class("part shade", 2, "part"),
            _class("part sun", 4, "part"),
            _class("full sun", 6, "full"),
        ),
        _set(
            "LSU AgCenter",
            f"LSU AgCenter (Dan Gill, 2013): about 8, 6, 4 and 2 h ({MEMORY})",
            "hours between the four 'about' figures go to the nearest, halfway to the sunnier: limits 7, 5 and 3 h",
            _class("full shade", 0, "shade"),
            _class("part shade", 3, "part"),
            _class("part sun", 5, "part"),
            _class("full sun", 7, "full"),
        ),
        _set(
            "Missouri Botanical Garden",
            f"Missouri Botanical Garden plant pages ({MEMORY})",
            "nothing is unnamed between about 2 and 6 h, part shade",
            _class("full shade", 0, "shade"),
            _class("part shade", 2, "part"),
            _class("full sun", 6, "full"),
        ),
    )
}


def sun_classes(setting: str = DEFAULT) -> SunClasses:
    """Return a publisher's set by name. Raises GardenError naming the nearest known one."""
    if setting not in SUN_CLASSES:
        raise GardenError(f'there is no set of sun classes called "{setting}"{nearest(setting, SUN_CLASSES)}')
    return SUN_CLASSES[setting]


def sun_class(hours: float, *, setting: str = DEFAULT) -> SunClass:
    """Return the class of mean hours of direct sun a day (0 to 24) in a publisher's set.

    >>> sun_class(6.0, setting="Nebraska Extension").name
    'full sun'
    """
    if not 0 <= hours <= MOST:
        raise GardenError(f"{hours:g} hours of sun a day cannot be; give 0 to 24")
    least, *sunnier = sun_classes(setting).classes
    return next((one for one in reversed(sunnier) if one.holds(hours)), least)


def class_map(hours: FloatArray, *, setting: str = DEFAULT) -> NDArray[np.int64]:
    """Return for hours of any shape the number of their class in the set, 0 the shadiest."""
    number = np.zeros(np.shape(hours), dtype=np.int64)
    for i, one in enumerate(sun_classes(setting).classes[1:], start=1):
        number[one.reached(hours)] = i
    return number
