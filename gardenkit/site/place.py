"""Where on earth a garden lies."""

import attrs


@attrs.frozen(kw_only=True)
class Place:
    """Where on earth: degrees north and east (south and west negative), metres above the sea, time zone by its IANA
    name.
    """

    name: str = ""
    latitude: float = 0.0
    longitude: float = 0.0
    elevation: float = 0.0
    timezone: str = "UTC"
