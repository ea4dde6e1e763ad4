"""Settings of the knowledge engine's tests."""

from hypothesis import settings

# How long one example takes says more about the machine than about the code.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
