"""The front door: a whole garden by script. ``import gardenkit as gk`` gives these names; ``gk.help()`` lists them."""
