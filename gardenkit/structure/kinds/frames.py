"""The timbers of what one walks or sits below: bays, beams and rafters of an arbour, a pergola or an arch, as they are
ordered and as they are drawn.
"""

import math

import attrs

from gardenkit.findings import GardenError
from gardenkit.sources import COMMON, HOUSE, Figure
from gardenkit.structure.kinds.timber_sizes import RAIL, TEN, TimberSize, beam_size, rafter_size
from gardenkit.structure.posts import count_posts
from gardenkit.structure.structure import Support
from gardenkit.units import FOOT, INCH, System, as_built

ARBOUR_SPACING = Figure(8 * FOOT, "m", f"grape arbour posts 8 ft apart; {COMMON}")
RAFTER_SPACING = Figure(16 * INCH, "m", f"grape arbour rafters at 16 in; {COMMON}")
CROSSMEMBER_SPACING = Figure(2 * FOOT, "m", f"trellis crossmembers about 2 ft apart; {COMMON}")
OVERHANG = Figure(12 * INCH, "m", f"posts 12 in in from the roof's edge; {HOUSE}")
DEPTH_UNKNOWN = Figure(0.6, "m", f"depth of an arch when not given; {HOUSE}")
POST_ACROSS = Figure(3.5 * INCH, "m", "a 4 x 4 in post as planed: American Softwood Lumber Standard PS 20")


@attrs.frozen(kw_only=True)
class Frame:
    """A frame overhead: ``long`` along its line and ``deep`` across, metres; ``bays`` between the posts of a side; how
    far beams and rafters reach ``over`` them; one section each, None beyond the table. ``paired`` beams are two
    boards with the posts between them; an arch has single rails and lattice sides.
    """

    long: float
    deep: float
    bays: int
    over: float
    beam: TimberSize | None
    paired: bool
    rafters: int
    rafter: TimberSize | None

    def beam_drawn(self) -> TimberSize:
        """Return the section beams are drawn with; the largest of the tables where these end."""
        return self.beam or TEN

    def rafter_drawn(self) -> TimberSize:
        """Return the section rafters are drawn with; the largest of the tables where these end."""
        return self.rafter or TEN

    def rafters_at(self) -> tuple[float, ...]:
        """Return where each rafter lies along the line, metres from its first end."""
        first, far = -self.over, self.long + 2 * self.over
        return tuple(first + far * k / (self.rafters - 1) for k in range(self.rafters))

    def posts_at(self) -> tuple[float, ...]:
        """Return where the posts of each side stand along the line, metres from its first end."""
        return tuple(self.long * k / self.bays for k in range(self.bays + 1))


def length_of(support: Support) -> float:
    """Return the length of a support's line in metres. Raises GardenError for a line without length."""
    length = math.fsum(math.dist(a, b) for a, b in zip(support.line, support.line[1:], strict=False))
    if not length > 0:
        raise GardenError(f'support "{support.name}" has no length; give its line two different ends')
    return length


def roof_frame(support: Support, units: System) -> Frame:
    """Return the frame of an arbour or a pergola: posts in bays, a pair of boards along each side, rafters across."""
    long, deep = length_of(support), float(support.depth or DEPTH_UNKNOWN)
    over = as_built(OVERHANG, units)
    bays = count_posts(long, as_built(ARBOUR_SPACING, units)) - 1
    return Frame(
        long=long,
        deep=deep,
        bays=bays,
        over=over,
        beam=beam_size(long / bays, deep),
        paired=True,
        rafters=math.ceil((long + 2 * over) / as_built(RAFTER_SPACING, units) - 1e-9) + 1,
        rafter=rafter_size(deep),
    )


def arch_frame(support: Support, units: System) -> Frame:
    """Return the frame of an arch: four posts, a rail along each side, rails across."""
    long, deep = length_of(support), float(support.depth or DEPTH_UNKNOWN)
    rails = math.ceil(long / as_built(CROSSMEMBER_SPACING, units)) + 1
    return Frame(long=long, deep=deep, bays=1, over=0.0, beam=RAIL, paired=False, rafters=max(2, rails), rafter=RAIL)
