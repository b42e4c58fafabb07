"""Every change that can be made to a garden: functions that take a project and return a new one, used by pages and
scripts alike.

One file a part of the project: ``brief``, ``site``, ``structure``, ``planting``; ``records`` holds what they share. An
edit looks after what names the thing it changes: what is renamed is renamed wherever it is named, what is removed is
let go of, or refused in one sentence (GardenError) where something still stands on it.
"""
