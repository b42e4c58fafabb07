"""What shape a kind's leaves have: oval, lance, heart, palm, feather, needle, strap, lobed or round.

Read from the genus where it departs from its layer, else from layer, family and texture of the catalogue: the usual
leaf of each, from memory, as any flora describes it. It serves drawings only; nothing is reckoned with it.
"""

from typing import Literal

from gardenkit.planting.species import Species

LeafForm = Literal["oval", "lance", "heart", "palm", "feather", "needle", "strap", "lobed", "round", "scale"]

GENUS: dict[str, LeafForm] = {
    **dict.fromkeys(("Hosta", "Brunnera", "Bergenia", "Cercis", "Tilia", "Viola", "Epimedium", "Catalpa"), "heart"),
    **dict.fromkeys(("Syringa", "Ligularia", "Actinidia", "Asarum", "Cercidiphyllum"), "heart"),
    **dict.fromkeys(("Acer", "Liquidambar", "Platanus", "Fatsia", "Vitis", "Parthenocissus", "Aesculus"), "palm"),
    **dict.fromkeys(("Geranium", "Alchemilla", "Heuchera", "Tiarella", "Ficus", "Hedera", "Helleborus"), "palm"),
    **dict.fromkeys(("Aconitum", "Delphinium", "Malva", "Alcea", "Humulus", "Passiflora", "Ricinus"), "palm"),
    **dict.fromkeys(("Achillea", "Anthemis", "Cosmos", "Nigella", "Foeniculum", "Astilbe", "Aruncus"), "feather"),
    **dict.fromkeys(("Sambucus", "Sorbus", "Fraxinus", "Wisteria", "Robinia", "Gleditsia", "Mahonia"), "feather"),
    **dict.fromkeys(("Rosa", "Thalictrum", "Filipendula", "Artemisia", "Dicentra", "Actaea", "Rhus"), "feather"),
    **dict.fromkeys(("Lavandula", "Rosmarinus", "Salvia rosmarinus", "Erica", "Calluna", "Santolina"), "needle"),
    **dict.fromkeys(("Thymus", "Hyssopus", "Tamarix", "Amsonia", "Phlox"), "lance"),
    **dict.fromkeys(("Salix", "Nepeta", "Salvia", "Penstemon", "Buddleja", "Nerium", "Aster"), "lance"),
    **dict.fromkeys(("Symphyotrichum", "Euphorbia", "Perovskia", "Veronica", "Prunus", "Olea"), "lance"),
    **dict.fromkeys(("Iris", "Hemerocallis", "Crocosmia", "Kniphofia", "Agapanthus", "Yucca"), "strap"),
    **dict.fromkeys(("Phormium", "Sisyrinchium", "Liriope", "Ophiopogon", "Tradescantia", "Libertia"), "strap"),
    **dict.fromkeys(("Quercus", "Crataegus", "Papaver", "Acanthus", "Hydrangea quercifolia"), "lobed"),
    **dict.fromkeys(("Cotinus", "Buxus", "Amelanchier", "Corylus", "Betula", "Alnus", "Hamamelis"), "round"),
    **dict.fromkeys(("Sedum", "Hylotelephium", "Bergenia", "Nymphaea", "Lysimachia"), "round"),
    **dict.fromkeys(("Juniperus", "Thuja", "Chamaecyparis", "Cupressus", "× Cuprocyparis"), "scale"),
}
LAYER: dict[str, LeafForm] = {
    "grass": "strap",
    "fern": "feather",
    "bulb": "strap",
    "tender bulb": "strap",
    "conifer": "needle",
}
FAMILY: dict[str, LeafForm] = {
    "Poaceae": "strap",
    "Cyperaceae": "strap",
    "Iridaceae": "strap",
    "Asphodelaceae": "strap",
    "Amaryllidaceae": "strap",
    "Apiaceae": "feather",
    "Fabaceae": "feather",
    "Cupressaceae": "scale",
    "Ericaceae": "oval",
    "Lamiaceae": "oval",
    "Asteraceae": "lance",
    "Caryophyllaceae": "lance",
    "Geraniaceae": "palm",
    "Sapindaceae": "palm",
    "Fagaceae": "lobed",
}
SIZE = {"fine": 0.019, "medium": 0.034, "coarse": 0.056}  # m, half the length of a leaf or leaflet. House values.


def leaf_form(species: Species) -> LeafForm:
    """Return the shape a kind's leaves are drawn as."""
    if species.binomial in GENUS:
        return GENUS[species.binomial]
    if species.genus in GENUS:
        return GENUS[species.genus]
    return LAYER.get(species.layer) or FAMILY.get(species.family) or "oval"


def leaf_size(species: Species) -> float:
    """Return half the length of a leaf in metres, by the texture the catalogue gives."""
    return SIZE.get(species.texture, SIZE["medium"])
