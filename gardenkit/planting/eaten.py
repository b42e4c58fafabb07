"""Which kinds are eaten, those planted for other reasons too."""

from gardenkit.planting.species import Species

# Kinds that are planted for other reasons too and eaten all the same, by the beginning of their names. From memory.
EATEN = (
    *("Actinidia", "Allium schoenoprasum", "Allium tuberosum", "Amelanchier alnifolia", "Aronia melanocarpa"),
    *("Asimina", "Borago", "Cornus mas", "Diospyros kaki", "Feijoa", "Foeniculum", "Fragaria", "Laurus nobilis"),
    *("Malus domestica", "Olea", "Origanum vulgare", "Prunus tomentosa", "Punica", "Salvia officinalis"),
    *("Salvia rosmarinus", "Satureja", "Thymus vulgaris", "Thymus × citriodorus", "Tropaeolum majus"),
    *("Vaccinium", "Vitis labrusca"),
)


def is_food(species: Species) -> bool:
    """Return whether something of a kind is eaten."""
    named = f"{species.botanical} ".startswith(tuple(f"{name} " for name in EATEN))
    return species.role == "kitchen" or species.layer == "wall fruit" or named
