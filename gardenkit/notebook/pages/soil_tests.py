"""What was tested of the soil: jar and hole tests, pH and what a laboratory says, typed in together."""

from typing import Any

import ipywidgets as w

from gardenkit import reading, weather_units
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.site.soil import Soil, hole_test_mm_per_hour, soil_texture
from gardenkit.site.texture import JAR_TIMINGS, JarReading
from gardenkit.units import System, lengths_of, millimetres

MINUTES = 15.0  # between two readings of the hole test, the Cornell way
LIME_WORDS = {None: "not tested", True: "yes, crumbs fizz in vinegar", False: "no"}
SOIL_ENTRIES = (
    Entry(key="sand_percent", words="Sand, percent", hint="48"),
    Entry(key="silt_percent", words="Silt, percent", hint="36"),
    Entry(key="clay_percent", words="Clay, percent", hint="16"),
    Entry(key="jar", words="or the jar: top of sand, of silt, of clay, from the bottom", hint="0.8, 1.6, 2.0"),
    Entry(key="timing", words="Waiting times kept, after", options=tuple((t, t) for t in JAR_TIMINGS)),
    Entry(key="ph", words="pH", hint="6.3"),
    Entry(key="free_lime", words="Free lime", options=tuple((v, v) for v in LIME_WORDS.values())),
    Entry(
        key="drops",
        words="Hole test: fall of the water in each 15 minutes",
        hint="1 in, 3/4 in, or 25 mm, 20 mm",
    ),
    Entry(key="drainage", words="or the rate itself, an hour", hint="1.8 in, or 45 mm"),
    Entry(key="organic_matter_percent", words="Organic matter, percent", hint="4"),
    Entry(key="source", words="Tested by, when", hint="jar and hole test, May"),
)


class TestsPart(Part):
    """The form of the readings; nothing is kept unless all of them can be."""

    __test__ = False  # for pytest: a part of a page, not a class of tests

    def build(self) -> None:
        """Make the widgets, once."""
        self.form = Form(SOIL_ENTRIES, name="soil")
        take = controls.button("Take these readings", self.take, name="take-soil", width="96%")
        self.widget = w.VBox([self.form, take])

    def refresh(self) -> None:
        """Show the readings on record."""
        self.form.show(texts_of(self.project.site.soil, self.project.units))

    @handler
    def take(self) -> None:
        """Take in the readings."""
        found = read_soil(self.form.texts(), self.project.site.soil, self.project.units)
        if self.edit("soil", lambda p: edits.change_soil(p, **found)):
            kind = soil_texture(self.project.site.soil)
            self.message.say(f"taken: the soil is {kind}" if kind else "taken; the texture is still to be found")


def read_soil(texts: dict[str, str], old: Soil, units: System) -> dict[str, Any]:
    """Return the fields of the soil that the filled-in form gives; raises GardenError for the first reading that cannot
    be.
    """
    shares = {
        k: forms.number_or_none(texts[k], k.split("_")[0], low=0, high=100, unit="percent")
        for k in ("sand_percent", "silt_percent", "clay_percent")
    }
    shown = texts_of(old, units)
    rate = old.drainage_mm_per_hour if texts["drainage"] == shown["drainage"] else _read_rate(texts["drainage"], units)
    if texts["drops"]:
        rate = _read_drops(texts["drops"], units)
    return dict(
        **shares,
        jar=_read_jar(texts["jar"], texts["timing"]),
        ph=forms.number_or_none(texts["ph"], "the pH", low=0, high=14),
        free_lime=next(k for k, v in LIME_WORDS.items() if v == texts["free_lime"]),
        drainage_mm_per_hour=rate,
        organic_matter_percent=forms.number_or_none(
            texts["organic_matter_percent"], "organic matter", low=0, high=100, unit="percent"
        ),
        source=texts["source"],
    )


def _read_jar(text: str, timing: str) -> JarReading | None:
    if not text:
        return None
    marks = reading.several(text)
    if len(marks) != 3:
        raise GardenError(
            f'the jar "{text}" needs three marks: top of the sand, of the silt, of the clay, each '
            "from the bottom of the jar"
        )
    sand, silt, clay = (forms.number(m, "a mark on the jar", low=0, high=1000) for m in marks)
    return JarReading(sand_mark=sand, silt_mark=silt, clay_mark=clay, timing=timing)


def _read_drops(text: str, units: System) -> float:
    drops = [millimetres(drop, units, "the hole test") for drop in lengths_of(text)]
    return hole_test_mm_per_hour(drops, minutes_each=MINUTES)


def _read_rate(text: str, units: System) -> float | None:
    return millimetres(text, units, "the drainage rate") if text else None


def texts_of(soil: Soil, units: System) -> dict[str, str]:
    """Return a soil as it stands in the form."""

    def shown(value: float | None) -> str:
        return "" if value is None else reading.shown(value)

    rate = soil.drainage_mm_per_hour
    jar = soil.jar
    return {
        "sand_percent": shown(soil.sand_percent),
        "silt_percent": shown(soil.silt_percent),
        "clay_percent": shown(soil.clay_percent),
        "jar": f"{jar.sand_mark:g}, {jar.silt_mark:g}, {jar.clay_mark:g}" if jar else "",
        "timing": jar.timing if jar else next(iter(JAR_TIMINGS)),
        "ph": shown(soil.ph),
        "free_lime": LIME_WORDS[soil.free_lime],
        "drops": "",
        "drainage": "" if rate is None else weather_units.held(units).typed(rate),
        "organic_matter_percent": shown(soil.organic_matter_percent),
        "source": soil.source,
    }
