"""The steps of the notebooks that have more than one: what each is called and the sentences it opens with."""

import attrs


@attrs.frozen(kw_only=True)
class Step:
    """One step. ``pictures``: what it shows beside the plan is a picture too, and gets the larger share."""

    title: str
    opening: str
    pictures: bool = False


STEPS = {
    "wants": Step(
        title="Wants",
        opening="Write each want in the client's own words, and say how much it matters. Choose what it is checked "
        "by, and the seat, window, path or bed it is about: the verdict then changes by itself as the "
        "design grows.",
    ),
    "areas": Step(
        title="Areas of the property",
        opening="A property is designed an area at a time, over years. Give each area a name, its ground and its "
        "turn; a want can then be for one area, and the schedules and the client copy can tell of one area,"
        " with the rest of the plan faded.",
    ),
    "ground": Step(
        title="The ground as found",
        opening="The place first, and the boundary: drawn on the plan, or typed as its corners or simply as 40 x "
        "60. Then house, doors, windows, gates, fences and trees. Click what stands on the plan to open its"
        " form; drag the round handles to put a corner or a tree right. With a scan or an aerial picture, "
        "choose it, mark two places you have measured, and draw over it. Before any digging have the buried"
        " lines marked: they are not on this plan.",
    ),
    "survey": Step(
        title="The tape survey",
        opening="One measure on each line. All of them are worked out together; the tape that fits worst is named, "
        "and the ellipses show how sure each point is. Ground heights give the contours and tell whether "
        "water runs towards the house.",
    ),
    "traverse": Step(
        title="A traverse instead",
        opening="Where no two points see the corners, walk round the plot with tape and compass: one course a line."
        " What it misses its start by is shared out by length (the compass rule), and the closed figure can"
        " become the boundary.",
    ),
    "wall_photo": Step(
        title="A wall from a photo",
        opening="Where a wall is hard to reach with a tape, take a photo of it and measure one thing on it: a "
        "garage door, the wall itself. Drag A, B, C and D onto its four corners, and the photo is "
        "straightened to scale; mark each window or door on it and add it. Only what lies flat in the wall "
        "comes out true, so check one width by tape.",
    ),
    "sun": Step(
        title="Sun and shade",
        opening="Hours of direct sun on an average clear day of each month, now or when the planting has grown. "
        "Drag the round handle to ask about a spot; publishers differ on what they call full sun, so choose"
        " whose words to use. Daily light counts the light of the sky as well. "
        "Shadows at one hour shows any hour of any day by the clock on the kitchen "
        "wall. What you see in the garden goes into the sun diary, which says how well the map agrees.",
    ),
    "soil": Step(
        title="Soil",
        opening="A jar of soil and water, left to settle, gives the texture; a hole filled twice with water gives "
        "the drainage; a kit or a laboratory gives the pH. Amendments come from one named table at a time, "
        "never a mixture, and the page says when a change is not worth making. Wear a dust mask and eye "
        "protection with lime and sulphur, and follow the label.",
    ),
    "climate": Step(
        title="Climate and water",
        opening="Type what you know, or read it from a table of daily weather; the rule of thumb moves frost dates "
        "from a station to the garden. Reference evapotranspiration is what a clipped lawn would draw; the "
        "table says how much supplementary watering each bed would ask for.",
    ),
    "structure": Step(
        title="Path and stones",
        opening="Choose a path, then bend it, widen it, set the gap between its stones. The findings say what a "
        "named standard or common practice would ask; they defer to your local code. Before anything is "
        "dug, have buried utilities marked.",
    ),
    "paths": Step(
        title="All paths",
        opening="Add a path between two places, or from a place to another path; give it a surface and the use its "
        "width is designed for. Find route options tries many routes and shows the best few with what each "
        "one costs; nothing changes before you use one. What you pin, stays. Stone is heavy and its dust "
        "harms: the list gives every weight.",
    ),
    "beds": Step(
        title="Beds, paved and lawn areas",
        opening="Beds are what the paths leave. Name them, split one with a line, join two, or draw a bed by its "
        "corners and drag them; drag a small grey point to add a corner, drag a corner onto its neighbour "
        "to delete it. Green circles are space for tree crowns, the larger ones with room for a small "
        "tree.",
    ),
    "supports": Step(
        title="Supports and walls",
        opening="What climbers hold on to and fruit is trained on. How deep a post goes is a named rule, held "
        "against the frost depth you type; heavy climbers want a builder or engineer. Ask the local "
        "building office before you put up what is high or near a boundary.",
    ),
    "levels": Step(
        title="Levels",
        opening="How the ground will lie: spot levels, a terrace or lawn on one plane with its fall, banks and "
        "retaining walls between them. The plan shows contours as found (broken) and as they will be; what "
        "is dug and filled is told by two methods, and what the walls ask. Have buried utilities marked "
        "before digging, and ask the building office and an engineer about walls that hold ground.",
    ),
    "notes": Step(
        title="Written on the plan",
        opening="Notes with leaders, dimensions, services that are known, the tap and the transformer, setbacks and "
        "easements: clicked on the plan or typed, on every drawing afterwards. A service on the plan is what you "
        "know of, never all there is: have them marked before digging.",
    ),
    "climbs": Step(
        title="Steps and ramps",
        opening="Two places on the ground, and what it takes to get from one to the other. The figures are model "
        "codes and common practice: your local office decides.",
    ),
    "seen": Step(
        title="Sightlines",
        opening="Choose where one stands or sits, or drag the eye. The path is drawn full where it shows and broken"
        " where it is hidden. A bar for each month says how well a place is screened: a hedge in leaf and "
        "the same hedge bare are not the same.",
    ),
    "alternatives": Step(
        title="Options",
        opening="Keep the structure under a name, change it in the steps before, and compare the two. Using one "
        "keeps the other.",
    ),
    "layering": Step(
        title="The planting plan",
        opening="Look at any year up to fifteen and any month. The keys on the plan are those of the plant "
        "schedule. Click a plant to choose it: it is ringed, and dragged by its handle; lock what must "
        "stay; multiply, swap or remove what you choose; fill a bed with one kind. A plant that is not "
        "listed as toxic is not thereby safe.",
    ),
    "suits": Step(
        title="What suits a spot",
        opening="Choose a bed, or drag the round handle. Every plant of the catalogue is judged for the sun the "
        "spot has now and will have in year ten, for winter, soil, water, room, what the client refuses and"
        " the colours of the style, with the reason for each yes and no.",
    ),
    "palette": Step(
        title="A palette",
        opening="Say what you wish for; three sets of kinds that keep every wish are looked for among all that "
        "suit at least one bed. If the wishes cannot all be had, the smallest set of them to give up is "
        "named. Favourites are always kept.",
    ),
    "arrange": Step(
        title="Composing the beds",
        opening="The palette set out in the beds in a designer's order: specimen trees, masses of shrubs at the "
        "back, a signature plant that comes back along the walk, drifts low in front of tall, edging, a "
        "ground layer until the ground is closed, bulbs in clumps. Four proposals stand side by side, each "
        "with what it has more of than the others; take one whole, or one bed of it. What you locked or put"
        " by hand stays. The same layout variation gives the same plan. Before a hole is dug, have buried "
        "utilities marked.",
    ),
    "seasons": Step(
        title="Views",
        opening="From the gate, a window, a seat or along the path: any month of any year in true perspective, the "
        "four seasons, years 1, 5 and 15, and the garden from the side. Below, what stands left and right, "
        "how varied the planting is, and what winter has to offer.",
        pictures=True,
    ),
    "own_photo": Step(
        title="In your own photo",
        opening="Add a photo of the site as it is and mark places on it that the plan knows: corners of the house, "
        "windows, posts. From these the camera is found, and the design is drawn into the photo at any year and "
        "season, behind what stands in front. What will be cleared away stays on the photo.",
        pictures=True,
    ),
    "care": Step(
        title="Quantities and care",
        opening="What to buy and what it costs, how to water, in which order to build, what to do in which month. "
        "Prices are usual ones until you type your nursery's over them.",
    ),
    "journal": Step(
        title="The journal",
        opening="What died, moved, came by itself, was divided or replaced, what flowered when and how high it is: "
        "write it down with its day, and the plan follows. What was seen stands beside what is worked out; accept a "
        "correction and this garden's figures follow it. Next year's list comes of the entries.",
    ),
    "plants": Step(
        title="The catalogue",
        opening="All that is known of each plant, and where it was learned. Values written from memory say so: "
        "confirm them with a local nursery or extension office. Plants of your own, and values you correct,"
        " are kept in the garden's folder and checked as strictly as the catalogue itself.",
    ),
}
