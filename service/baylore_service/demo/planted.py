"""The failures planted in the demo shop, so that what keeps coming back has something true to find."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baylore_kb.values import PartResult


@dataclass(frozen=True, slots=True)
class Planted:
    """A failure that keeps coming back.

    `times` counts cases per model and cause, in the order of `models` and `causes`, in a shop of
    FULL_SHOP cases. `km` bounds the distance at failure. `copies_cure` is the chance that an
    aftermarket part of it cures, `copies_fail_as` what else it does, each as likely.
    """

    id: str
    title: str
    models: tuple[str, ...]
    causes: tuple[str, ...]
    times: tuple[tuple[int, ...], ...]
    km: tuple[int, int]
    copies_cure: float
    copies_fail_as: tuple[PartResult, ...]
    seen: tuple[str, ...]

    def counts(self) -> Iterator[tuple[str, str, int]]:
        """Each model and cause with its cases in a full shop."""
        for model, times in zip(self.models, self.times, strict=True):
            for cause, count in zip(self.causes, times, strict=True):
                yield model, cause, count


FULL_SHOP = 440
PLANTED = (
    Planted(
        "water_pump",
        "Ondrey Sorrel water pumps weep between 105,000 and 150,000 km",
        models=("Ondrey Sorrel",),
        causes=("cooling.water_pump.leaking",),
        times=((12,),),
        km=(105_000, 150_000),
        copies_cure=0.8,
        copies_fail_as=("failed later", "no change"),
        seen=("crust under the pump", "weep hole wet", "pink trail below the pulley", "drips only once hot"),
    ),
    Planted(
        "wheel_sensor",
        "Tarrow Linnet wheel sensors give no signal, and copies of them sit short and do not cure",
        models=("Tarrow Linnet",),
        causes=("abs_stab.sensor.no_signal",),
        times=((12,),),
        km=(90_000, 230_000),
        copies_cure=0.2,
        copies_fail_as=("partly", "partly", "no change", "failed later"),
        seen=(
            "LF reads zero till 15 km/h",
            "old one swollen in its seat",
            "signal weak at the plug",
            "tip rusted",
        ),
    ),
    Planted(
        "oil_in_plug_well",
        "The 1.8 petrol of Tarrow Corrie and Tarrow Sedge lets oil into the plug wells and kills coils",
        models=("Tarrow Corrie", "Tarrow Sedge"),
        causes=("ignition.boot.contaminated", "ignition.coil.weak"),
        times=((8, 3), (6, 3)),
        km=(95_000, 190_000),
        copies_cure=0.55,
        copies_fail_as=("failed later",),
        seen=(
            "oil in the plug well",
            "well full of oil, boot soft",
            "cover gasket hard as wood",
            "boot tracked",
        ),
    ),
    Planted(
        "window_harness",
        "Vostrel Harrow door looms break in the hinge boot",
        models=("Vostrel Harrow",),
        causes=("body_elec.door_harness.broken",),
        times=((10,),),
        km=(80_000, 240_000),
        copies_cure=0.9,
        copies_fail_as=("partly",),
        seen=("two wires gone in the boot", "green copper at the hinge", "works with the door half open"),
    ),
)


def by_cause(cause: str, model: str) -> Planted | None:
    """The planted failure a cause on a model ("Make Model") belongs to, None for an ordinary one."""
    return next((each for each in PLANTED if cause in each.causes and model in each.models), None)
