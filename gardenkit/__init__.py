"""gardenkit: a design workbook for people who design home gardens."""

__version__ = "0.1.0"
