"""Hypothesis profiles, and what every test may rely on."""

import os

from hypothesis import HealthCheck, settings

# No deadline anywhere: the kernel jitters, and a slow example is not a wrong one.
settings.register_profile("dev", max_examples=50, deadline=None)
settings.register_profile("ci", max_examples=100, deadline=None, derandomize=True, print_blob=True)
settings.register_profile(
    "deep",
    max_examples=2000,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile(
    os.environ.get("HYPOTHESIS_PROFILE") or ("ci" if os.environ.get("CI") == "true" else "dev")
)
