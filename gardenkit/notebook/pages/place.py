"""Where on earth a garden lies: what is typed about the place, and the time zone found from it without the network."""

import re

import ipywidgets as w

from gardenkit import units
from gardenkit.findings import GardenError
from gardenkit.notebook import controls
from gardenkit.notebook.page import handler
from gardenkit.notebook.pages import forms
from gardenkit.notebook.pages.forms import Entry, Form
from gardenkit.notebook.part import Part
from gardenkit.project.edits import site as edits
from gardenkit.site.place import Place
from gardenkit.site.site import Site
from gardenkit.units import FOOT, System, bearing, length

PLACE_ENTRIES = (
    Entry(key="name", words="Name of the place", hint="street and town"),
    Entry(key="latitude", words="Latitude, degrees north (south: minus)", hint="42.30, or 42.30, -72.60 from a map"),
    Entry(key="longitude", words="Longitude, degrees east (west: minus)", hint="-72.60"),
    Entry(key="elevation", words="Height above the sea", hint="200 ft, or 60 m"),
    Entry(key="timezone", words="Time zone (left empty it is found from the place)", hint="America/New_York"),
    Entry(key="y_bearing", words="North rotation: top of the plan, degrees from north", hint="0, or N 12 E", start="0"),
)


class PlacePart(Part):
    """Where on earth the garden lies; an empty time zone is found from latitude and longitude."""

    def build(self) -> None:
        """Make the widgets, once."""
        self.form = Form(PLACE_ENTRIES, name="place")
        self.widget = w.VBox([self.form, controls.button("Set the place", self.take, name="place", width="96%")])

    def refresh(self) -> None:
        """Show the place as it stands."""
        self.form.show(place_texts(self.project.site, self.project.units))

    @handler
    def take(self) -> None:
        """Take in what was typed."""
        texts, old, system = self.form.texts(), self.project.site.place, self.project.units
        north_typed, east_typed = both_degrees(texts["latitude"], texts["longitude"])
        north, east = degrees(north_typed, "latitude", 90), degrees(east_typed, "longitude", 180)
        high = old.elevation
        if texts["elevation"] != place_texts(self.project.site, system)["elevation"]:
            where = "the height above the sea"
            high = length(texts["elevation"] or "0", bare=forms.bare_unit(system), where=where, signed=True)
        moved, typed = (north, east) != (old.latitude, old.longitude), texts["timezone"]
        zone = time_zone_at(north, east) if not typed or (moved and typed == old.timezone) else typed
        turn = bearing(texts["y_bearing"] or "0", where="north rotation")
        here = {"name": texts["name"], "latitude": north, "longitude": east, "elevation": high, "timezone": zone}
        if self.edit("the place", lambda p: edits.set_place(p, y_bearing=turn, **here)):
            self.message.say(f"the place is set; its clock runs by {zone}. Next: the boundary")


def degrees(text: str, words: str, most: float) -> float:
    """Return degrees typed as 42.3, -72.6, ``72.6 W`` or ``42° 18' N``; raises GardenError.

    >>> degrees("72° 36' W", "longitude", 180)
    -72.6
    """
    shown = text.strip()
    found = re.fullmatch(r"(?P<sign>[-+−–]?)\s*(?P<angle>[^NSEW]+?)\s*(?P<side>[NSEW]?)", shown, re.I)
    sides = "NS" if most < 100 else "EW"
    side = found["side"].upper() if found else ""
    value = units.degrees(found["angle"], most=most) if found and not (side and found["sign"]) else None
    if found is None or value is None or side not in sides:
        example = "42.30" if most < 100 else "-72.60"
        raise GardenError(
            f'cannot read "{shown[: units.SAID]}" as a {words}; type degrees like {example}, as any map shows them, '
            f"from -{most:g} to {most:g}"
        )
    return -value if found["sign"] in ("-", "−", "–") or side in ("S", "W") else value


def both_degrees(latitude: str, longitude: str) -> tuple[str, str]:
    """Return latitude and longitude as they are typed; both may stand in the first field, as a map shows them.

    >>> both_degrees("42.30, -72.60", ""), both_degrees("42,30", "")
    (('42.30', '-72.60'), ('42,30', ''))
    """
    if longitude:
        return latitude, longitude
    parts = re.split(r"\s*;\s*|\s*,\s+|\s*,(?=[-+−]|\d+\.)", latitude)
    return (parts[0], parts[1]) if len(parts) == 2 else (latitude, "")


def time_zone_at(latitude: float, longitude: float) -> str:
    """Return the IANA name of the time zone at a place, found without the network. Raises GardenError when none is
    known.
    """
    from timezonefinder import TimezoneFinder

    found = TimezoneFinder().timezone_at(lat=latitude, lng=longitude)
    if found is None:
        raise GardenError(
            f"no time zone is known at latitude {latitude:g}, longitude {longitude:g}; check both, "
            "or type the zone's name"
        )
    return str(found)


def place_texts(site: Site, units: System) -> dict[str, str]:
    """Return the place as it stands in its form; empty fields while it is not known."""
    place = site.place
    if place == Place():
        return {
            "name": "",
            "latitude": "",
            "longitude": "",
            "elevation": "",
            "timezone": "",
            "y_bearing": f"{site.y_bearing:g}",
        }
    height = f"{place.elevation:.0f} m" if units == "metric" else f"{place.elevation / FOOT:.0f} ft"
    return {
        "name": place.name,
        "latitude": f"{place.latitude:.6g}",
        "longitude": f"{place.longitude:.6g}",
        "elevation": height,
        "timezone": place.timezone,
        "y_bearing": f"{site.y_bearing:g}",
    }
