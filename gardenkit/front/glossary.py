"""The names and units of the front door, each in one line."""

import gardenkit
from gardenkit.findings import GardenError, nearest

WORDS = {
    "length": 'text as on a sketch ("12\' 6\\"", "3.2 m") or a number in the garden\'s units: feet, or metres',
    "point": "a pair of lengths (x, y) on the plan, from the corner you measured from",
    "corners": "points in order round an outline; one is the corner across from (0, 0), two are opposite corners",
    "inside": "records keep metres, square metres, kilograms, litres and degrees C; any other unit stands in the name",
    "bearing": "degrees clockwise from north",
    "garden": "a project with its folder, and all worked out from it; it never changes, so keep what a call returns",
    "place (of a path)": "a gate, a door or a seat by its name, or an earlier path, where a path begins or ends",
    "curvature": "0 is the most direct path, 1 swings as far as the ground allows; sway: its number of curves",
    "gap": "clear distance between two stepping stones; pace: from middle to middle",
    "bed": "ground for plants: what paths and paving leave, or what you drew by its corners",
    "area": "ground that is neither path nor bed: a lawn, a patio, gravel",
    "area of the property": "a part designed by itself, with its own wants, state and turn in the order of work",
    "on centre": "the distance between the middles of neighbouring plants of a mass",
    "key": "the letters that stand for a kind of plant on plan, schedule and client copy",
    "year": "years after planting; 0 is the planting season",
    "schedule": "the plants to buy, one line a kind",
}


def told(word: str = "") -> str:
    """Return the glossary, or what one word means. Raises GardenError naming the nearest known word.

    >>> told("bearing")
    'bearing: degrees clockwise from north'
    """
    names = {n: (getattr(gardenkit, n).__doc__ or "").strip().splitlines()[0] for n in gardenkit.__all__}
    known = WORDS | {f"gk.{n}": line for n, line in names.items()}
    if word:
        full = word if word in known else f"gk.{word}"
        if full not in known:
            raise GardenError(f'no word "{word}"{nearest(word, known)}; see all with gk.help()')
        return f"{full}: {known[full]}"
    return "\n".join(f"{name}: {line}" for name, line in known.items())
