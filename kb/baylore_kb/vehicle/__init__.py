"""Vehicles: their names, how near two are, what is said of one, and what the shop knows of its kind."""

from baylore_kb.traits import traits_of
from baylore_kb.vehicle.cars import Cars
from baylore_kb.vehicle.known import car_known
from baylore_kb.vehicle.names import known_name, name_key
from baylore_kb.vehicle.nearness import (
    LEVELS,
    OF_THE_MAKE,
    THE_SAME,
    YEAR_BAND,
    Kind,
    Nearness,
    kind_of,
    near,
    nearness,
    same_engine,
)
from baylore_kb.vehicle.vin_says import VinSays, filled_by_vin, vin_says, without_old_vin

__all__ = [
    "LEVELS",
    "OF_THE_MAKE",
    "THE_SAME",
    "YEAR_BAND",
    "Cars",
    "Kind",
    "Nearness",
    "VinSays",
    "car_known",
    "filled_by_vin",
    "kind_of",
    "known_name",
    "name_key",
    "near",
    "nearness",
    "same_engine",
    "traits_of",
    "vin_says",
    "without_old_vin",
]
