"""Settings for every test: at home hypothesis looks for new cases each time, in CI it tries the same ones again."""

import os

from hypothesis import HealthCheck, settings

settings.register_profile("home", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("ci" if os.environ.get("CI") else "home")
