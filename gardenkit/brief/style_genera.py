"""The genera one knows a style of planting by: cottage is roses, peonies, cranesbills, formal what can be clipped."""

from collections.abc import Mapping

from gardenkit.brief.style import Style

# All of them common practice, no source; a palette leans to them, and the designer may take any other kind.
GENERA: Mapping[str, tuple[str, ...]] = {
    name: tuple(genera.split())
    for name, genera in {
        "cottage": """
            Alcea Alchemilla Antirrhinum Aquilegia Astrantia Campanula Centaurea Clematis Cosmos
            Delphinium Dianthus Digitalis Geranium Hydrangea Iris Lathyrus Lavandula Leucanthemum
            Lonicera Malva Myosotis Nepeta Nigella Paeonia Papaver Philadelphus Phlox Primula Rosa
            Salvia Stachys Syringa Tulipa Viola
        """,
        "woodland": """
            Actaea Adiantum Amelanchier Anemone Aquilegia Aruncus Asarum Athyrium Brunnera Carex Cercis
            Cornus Dryopteris Epimedium Erythronium Galanthus Geranium Hamamelis Helleborus Heuchera
            Hosta Hydrangea Kalmia Lindera Luzula Matteuccia Onoclea Osmunda Osmundastrum Phlox
            Polygonatum Polystichum Pulmonaria Rhododendron Tiarella Trillium Uvularia Viburnum
        """,
        "formal": """
            Alchemilla Allium Buxus Camellia Carpinus Euonymus Gardenia Hydrangea Ilex Iris Laurus
            Lavandula Myrtus Nepeta Osmanthus Paeonia Pittosporum Rosa Salvia Santolina Sarcococca Taxus
            Teucrium Thuja Tulipa
        """,
        "meadow": """
            Achillea Allium Amsonia Andropogon Asclepias Baptisia Bouteloua Calamagrostis Camassia Carex
            Coreopsis Deschampsia Echinacea Eryngium Eutrochium Gaillardia Geum Helenium Helianthus
            Knautia Liatris Molinia Monarda Panicum Penstemon Ratibida Rudbeckia Salvia Sanguisorba
            Schizachyrium Solidago Sorghastrum Sporobolus Symphyotrichum Verbena Vernonia Veronicastrum
        """,
        "dry stone": """
            Achillea Agave Allium Arctostaphylos Artemisia Bouteloua Ceanothus Cistus Delosperma
            Dianthus Eryngium Euphorbia Festuca Helictotrichon Hesperaloe Hylotelephium Iris Juniperus
            Lavandula Nassella Nepeta Opuntia Origanum Penstemon Phlomis Pinus Salvia Santolina Sedum
            Sempervivum Stachys Stipa Teucrium Thymus Verbascum Yucca
        """,
        "quiet green": """
            Acer Asarum Athyrium Buxus Camellia Carex Cryptomeria Dryopteris Epimedium Fatsia
            Hakonechloa Helleborus Hosta Hydrangea Ilex Liriope Mahonia Nandina Ophiopogon Pachysandra
            Pinus Polystichum Rhododendron Sarcococca Taxus Tsuga
        """,
        "romantic": """
            Alchemilla Astrantia Campanula Clematis Delphinium Deutzia Dianthus Digitalis Geranium
            Gypsophila Hydrangea Iris Lavandula Lonicera Nepeta Paeonia Philadelphus Rosa Stachys
            Syringa Tanacetum Viola Wisteria
        """,
        "wildlife": """
            Agastache Amelanchier Aronia Asclepias Ceanothus Cephalanthus Clethra Cornus Echinacea
            Eutrochium Helianthus Ilex Itea Liatris Lindera Lobelia Monarda Nyssa Packera Panicum
            Penstemon Pycnanthemum Quercus Rudbeckia Salvia Sambucus Schizachyrium Solidago
            Symphyotrichum Vaccinium Viburnum
        """,
        "seaside": """
            Achillea Armeria Artemisia Centranthus Crambe Crocosmia Eryngium Escallonia Festuca
            Gaillardia Hebe Hippophae Hylotelephium Juniperus Kniphofia Lavandula Leymus Limonium
            Morella Nepeta Panicum Phormium Pinus Rosa Santolina Sedum Solidago Stipa
        """,
    }.items()
}


def genera_of(style: Style) -> tuple[str, ...]:
    """Return the genera of a style, or of all the styles it is mixed of, and those of its signature plants.

    A style with a name of its own leans to the trade styles that its name speaks of, "hill meadow" to meadow.
    """
    names = [part.name for part in style.mixed] or [name for name in GENERA if name in style.name.casefold()]
    found = [genus for name in names for genus in GENERA.get(name, ())]
    return tuple(dict.fromkeys((*found, *(plant.split()[0] for plant in style.signature))))
