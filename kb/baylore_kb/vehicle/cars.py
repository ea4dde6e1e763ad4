"""The kinds of cars a shop has seen: its makes, the models of each, and the engines they came with."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from baylore_kb.seldom import seldom
from baylore_kb.tokens import fold
from baylore_kb.values import Vehicle
from baylore_kb.vehicle.names import Names, is_alias, is_syllables, name_key
from baylore_kb.vehicle.nearness import YEAR_BAND, Kind, kind_of

_BETWEEN = "\x1f"
MOST_ENGINES = 6


def pair_facet(vehicle: Vehicle) -> str:
    """A make with one of its models, as one text; "" for a vehicle without either."""
    return f"{vehicle.make}{_BETWEEN}{vehicle.model}" if vehicle.make or vehicle.model else ""


def engine_facet(vehicle: Vehicle) -> str:
    """Make, model, year and engine as one text; "" where there is no engine."""
    if not vehicle.engine or not vehicle.model:
        return ""
    return _BETWEEN.join((vehicle.make, vehicle.model, str(vehicle.year or ""), vehicle.engine))


@dataclass(frozen=True)
class Cars:
    """What the shop's cases name; `pairs` and `built` are facets with how many cases hold each."""

    pairs: Mapping[str, int]
    built: Mapping[str, int]

    @staticmethod
    def of(vehicles: Iterable[Vehicle]) -> Cars:
        """The kinds of these vehicles."""
        listed = list(vehicles)
        pairs, built = (Counter(map(facet, listed)) for facet in (pair_facet, engine_facet))
        return Cars(pairs, built)

    @cached_property
    def makes(self) -> Mapping[str, str]:
        """Makes by key, each as the shop writes it most.

        A name that is another's short form or initials is that make where both have a model in common.
        """
        names = self._by_key(0)
        usual = sorted(names, key=lambda key: (-self._times[key], key))
        held: dict[str, str] = {}
        for key in usual:
            held[key] = next((held[other] for other in held if self._one_make(names, key, other)), names[key])
        return held

    @cached_property
    def models(self) -> Mapping[str, str]:
        """Models by key, each as the shop writes it most."""
        return self._by_key(1)

    @cached_property
    def makes_of(self) -> Mapping[str, frozenset[str]]:
        """The makes of each model, by the model's key."""
        found: dict[str, set[str]] = defaultdict(set)
        for make, models in self._models_of.items():
            for model in models:
                found[model].add(self.makes[make])
        return {key: frozenset(makes) for key, makes in found.items()}

    @cached_property
    def words(self) -> frozenset[str]:
        """Every folded word of a make or model."""
        names = (name for pair in self.pairs for name in pair.split(_BETWEEN))
        return frozenset(word for name in names for word in fold(name).replace("-", " ").split())

    def make_meant(self, typed: str) -> str | None:
        """The shop's make that is meant, None where none is."""
        found = self._make_names.meant(typed, initials=True)
        return self.makes[name_key(found)] if found else None

    def models_by(self, make: str) -> Names:
        """The models of a make, however it is spelt; all models where `make` is empty."""
        if not make:
            return self._model_names
        return self._names_by_make.get(self.makes.get(name_key(make), ""), Names({}))

    def kind(self, vehicle: Vehicle) -> Kind:
        """What of a vehicle is compared, its make as the shop writes it most where it has written it."""
        return self.as_written(kind_of(vehicle))

    def as_written(self, kind: Kind) -> Kind:
        """The kind with its make as the shop writes it most, where it has written it."""
        usual = self._usual.get(kind.make, kind.make)
        return kind if usual == kind.make else kind._replace(make=usual)

    def rarity(self, vehicle: Vehicle) -> tuple[float, float]:
        """How `seldom` its make and its model are among the cases; 1 where not known."""
        kind, whole = self.kind(vehicle), sum(self.pairs.values())
        make = seldom(self._held[kind.make, ""], whole) if kind.make else 1.0
        return make, seldom(self._held[kind.make, kind.model], whole) if kind.model else 1.0

    @cached_property
    def _held(self) -> Counter[tuple[str, str]]:
        """Cases of each make, under no model, and of each model of it, by keys."""
        held: Counter[tuple[str, str]] = Counter()
        for pair, times in self.pairs.items():
            make, _, model = pair.partition(_BETWEEN)
            kind = self.kind(Vehicle(None, make, model))
            held.update(dict.fromkeys(((kind.make, ""), (kind.make, kind.model)), times))
        return held

    @cached_property
    def _usual(self) -> Mapping[str, str]:
        """The key of a make by the keys of its other names."""
        return {key: name_key(make) for key, make in self.makes.items()}

    def named(self, vehicle: Vehicle) -> Vehicle:
        """The vehicle with make and model as the shop writes them, where it has written them.

        A model is looked for among those of its make; of a make the shop has never seen it is left alone.
        """
        make = self._make(vehicle) or vehicle.make
        model = self.models_by(make).meant(vehicle.model) if vehicle.model else None
        return _renamed(vehicle, make, model or vehicle.model)

    def engines(self, vehicle: Vehicle) -> tuple[str, ...]:
        """Engines that came with this make and model within four years, at most six.

        Those of the very year come first, of these the most usual. A year or make that is not known fits
        all; a model that is not known gives ().
        """
        counts: Counter[tuple[bool, str]] = Counter()
        for made, engine, times in self._built.get(name_key(vehicle.model), ()):
            if _fits(made, vehicle):
                counts[made.year != vehicle.year, engine] += times
        order = sorted(counts, key=lambda found: (found[0], -counts[found], found[1]))
        first: dict[str, str] = {}
        for _, engine in order:
            first.setdefault(name_key(engine), engine)
        return tuple(first.values())[:MOST_ENGINES]

    def _make(self, vehicle: Vehicle) -> str | None:
        if not vehicle.make:
            return None
        make = self.make_meant(vehicle.make)
        if make is None or not vehicle.model or not _by_syllables(vehicle.make, make):
            return make
        # Two letters say little: the model must bear them out.
        return make if self.models_by(make).meant(vehicle.model) else None

    @cached_property
    def _built(self) -> Mapping[str, list[tuple[Vehicle, str, int]]]:
        found: dict[str, list[tuple[Vehicle, str, int]]] = defaultdict(list)
        for built, times in self.built.items():
            if built:
                make, model, year, engine = built.split(_BETWEEN)
                car = Vehicle(int(year) if year else None, make, model)
                found[name_key(model)].append((car, engine, times))
        return found

    @cached_property
    def _models_of(self) -> Mapping[str, frozenset[str]]:
        """Keys of the models by the key of the make as it is spelt."""
        found: dict[str, set[str]] = defaultdict(set)
        for pair in self.pairs:
            make, _, model = pair.partition(_BETWEEN)
            if make and model:
                found[name_key(make)].add(name_key(model))
        return {make: frozenset(models) for make, models in found.items()}

    @cached_property
    def _names_by_make(self) -> Mapping[str, Names]:
        found: dict[str, dict[str, str]] = defaultdict(dict)
        for make, models in self._models_of.items():
            found[self.makes[make]] |= {key: self.models[key] for key in models}
        return {make: Names(by_key) for make, by_key in found.items()}

    @cached_property
    def _make_names(self) -> Names:
        return Names(self._by_key(0))

    @cached_property
    def _model_names(self) -> Names:
        return Names(self.models)

    def _one_make(self, names: Mapping[str, str], one: str, other: str) -> bool:
        common = self._models_of.get(one, frozenset()) & self._models_of.get(other, frozenset())
        return bool(common) and is_alias(names[one], names[other])

    @cached_property
    def _times(self) -> Counter[str]:
        """How often each make is written, by key."""
        times: Counter[str] = Counter()
        for pair, count in self.pairs.items():
            times[name_key(pair.partition(_BETWEEN)[0])] += count
        return times

    def _by_key(self, place: int) -> dict[str, str]:
        counts: Counter[str] = Counter()
        for pair, times in self.pairs.items():
            if pair:
                counts[pair.split(_BETWEEN)[place]] += times
        usual = sorted((name for name in counts if name), key=lambda name: (counts[name], name))
        return {key: name for name in usual if (key := name_key(name))}


def _renamed(vehicle: Vehicle, make: str, model: str) -> Vehicle:
    if (make, model) == (vehicle.make, vehicle.model):
        return vehicle
    return replace(vehicle, make=make, model=model)


def _by_syllables(typed: str, make: str) -> bool:
    if name_key(typed) == name_key(make):
        return False
    return is_syllables(typed, make) or is_syllables(make, typed)


def _fits(made: Vehicle, asked: Vehicle) -> bool:
    if made.make and asked.make and name_key(made.make) != name_key(asked.make):
        return False
    return made.year is None or asked.year is None or abs(made.year - asked.year) <= YEAR_BAND
