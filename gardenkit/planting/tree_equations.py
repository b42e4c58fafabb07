"""Trunk, height and crown of measured town trees by age: a check on the growth curves, never a forecast for one tree.

The equations fail for young trees (trunks below about 5 cm): for the first years use the nursery size.
"""

import math
from collections.abc import Mapping
from typing import Literal

import attrs

from gardenkit.findings import GardenError, nearest
from gardenkit.sources import Figure

SOURCE = "McPherson, van Doorn & Peper 2016, Urban Tree Database, PSW-GTR-253, RDS-2016-0005; as quoted, confirm there"
LEAST_TRUNK = Figure(5.0, "cm", "below this the equations are poor; McPherson, van Doorn & Peper 2016")
Form = Literal["lin", "quad", "cub", "loglogw1", "loglogw2", "loglogw3", "loglogw4", "expow1"]
FORMS = ("lin", "quad", "cub", "loglogw1", "loglogw2", "loglogw3", "loglogw4", "expow1")


@attrs.frozen
class Equation:
    """One equation: its form, coefficients a b c d, and for the log forms the mean squared error."""

    form: str
    a: float
    b: float
    c: float = 0.0
    d: float = 0.0
    mse: float = 0.0

    def at(self, x: float, *, mse_inside: bool = False) -> float:
        """Return the value at ``x``; GardenError for an unknown form.

        lin, quad, cub: a + b x + c x2 + d x3. loglogw1 to 4: exp(a + b ln(ln(x + 1)) + mse/2 times 1, sqrt x, x, x2).
        The printed table has mse/2 inside the inner logarithm of loglogw1 (``mse_inside``), which moves a crown by 2 to
        3 %; outside it reproduces the published curves.
        """
        if self.form not in FORMS:
            raise GardenError(f'there is no equation form "{self.form}"{nearest(self.form, FORMS)}')
        if self.form in ("lin", "quad", "cub"):
            return self.a + self.b * x + self.c * x**2 + self.d * x**3
        if self.form == "expow1":
            return math.exp(self.a + self.b * x + self.mse / 2)
        weight = {"loglogw1": 1.0, "loglogw2": math.sqrt(x), "loglogw3": x, "loglogw4": x**2}[self.form]
        more = self.mse / 2 * weight
        if mse_inside:
            return math.exp(self.a + self.b * math.log(math.log(x + 1) + more))
        return math.exp(self.a + self.b * math.log(math.log(x + 1)) + more)


@attrs.frozen(kw_only=True)
class TownTree:
    """Equations of one kind in one region: trunk diameter (cm) by age, height and crown width (m) by trunk."""

    botanical: str
    region: str
    trunk: Equation
    height: Equation
    crown: Equation


TOWN_TREES: Mapping[str, TownTree] = {
    f"{tree.botanical}, {tree.region}": tree
    for tree in (
        TownTree(
            botanical="Quercus agrifolia",
            region="NoCalC",
            trunk=Equation("lin", 1.55732, 1.48691),
            height=Equation("cub", 2.00172, 0.32851, -0.00331, 0.00001),
            crown=Equation("quad", 0.35867, 0.27404, -0.00079),
        ),
        TownTree(
            botanical="Quercus agrifolia",
            region="InlEmp",
            trunk=Equation("quad", 3.18134, 1.27341, -0.00314),
            height=Equation("quad", 2.92172, 0.22352, -0.00096),
            crown=Equation("quad", 2.15346, 0.2119, -0.00097),
        ),
        TownTree(
            botanical="Platanus × acerifolia",
            region="NoEast",
            trunk=Equation("quad", 2.40322, 1.29420, -0.00705),
            height=Equation("quad", 3.29515, 0.30021, -0.00109),
            crown=Equation("loglogw1", -0.75195, 2.41418, mse=2 * 0.0703),
        ),
    )
}
SUGAR_MAPLE_AGE = Equation(
    "loglogw1", -0.54715, 3.22652, mse=2 * 0.0353
)  # years from trunk (cm), Acer saccharum, NoEast


def town_tree(name: str, years: float) -> tuple[float, float, float]:
    """Return trunk (cm), height and crown width (m) of a measured town tree ``years`` after planting.

    Raises GardenError for an unknown tree.
    """
    if name not in TOWN_TREES:
        raise GardenError(f'no equations for "{name}"{nearest(name, TOWN_TREES)}; there are {"; ".join(TOWN_TREES)}')
    tree = TOWN_TREES[name]
    trunk = tree.trunk.at(years)
    return trunk, tree.height.at(trunk), tree.crown.at(trunk)
