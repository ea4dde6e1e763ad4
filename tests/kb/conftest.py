"""Settings of the knowledge engine's tests."""

from hypothesis import settings

# How long one example takes says more about the machine than about the code.
settings.register_profile("untimed", deadline=None, max_examples=50)
settings.load_profile("untimed")
