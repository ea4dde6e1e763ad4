"""Where a shop's cases are found: in its derived tables of PostgreSQL."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from baylore_kb.afar import Brief, Choose, Sought
from baylore_kb.values import Case
from baylore_service.far_host.asking import asked
from baylore_service.index_host import remembered
from baylore_service.store import cases, seeking
from baylore_service.store.work import Store, Work

# Words spelt like an asked one that nothing else is known of.
MOST_ALIKE = 5


class FarCases(Mapping[str, Case]):
    """A shop's cases by id, fetched when looked at."""

    def __init__(self, store: Store, shop_id: str) -> None:
        self._store, self._shop_id = store, shop_id

    def __getitem__(self, id: str) -> Case:
        with self._store.read() as work:
            file = cases.get(work, self._shop_id, id)
        if file is None or not remembered(file):
            raise KeyError(id)
        return file.as_case()

    def __iter__(self) -> Iterator[str]:
        with self._store.read() as work:
            yield from cases.revisions(work, self._shop_id)

    def __len__(self) -> int:
        with self._store.read() as work:
            return len(cases.revisions(work, self._shop_id))

    def values(self) -> Iterable[Case]:  # type: ignore[override]
        """All cases, fetched in one go."""
        with self._store.read() as work:
            yield from (file.as_case() for file in cases.every(work, self._shop_id) if remembered(file))


class PostgresSource:
    """Finds a shop's cases in its derived tables; with `trigrams` words spelt alike too."""

    def __init__(self, store: Store, shop_id: str, *, trigrams: bool = False) -> None:
        self._store, self._shop_id, self._trigrams = store, shop_id, trigrams
        self.cases: Mapping[str, Case] = FarCases(store, shop_id)

    def find(self, sought: Sought, *, limit: int, choose: Choose) -> Sequence[bytes]:
        """The cases chosen of those that promise most, as they were written."""

        def filled(work: Work) -> bool:
            state = seeking.state(work, self._shop_id)
            return state is not None and state.filled >= sought.revision

        with self._store.read_far(filled) as work:
            state = seeking.state(work, self._shop_id)
            if state is None:
                return []
            found = seeking.find(work, self._shop_id, state.number, asked(sought, limit=limit))
            chosen = choose([Brief(*row) for row in found])
            return list(seeking.documents(work, self._shop_id, chosen).values())

    def alike(self, words: Sequence[str]) -> Mapping[str, Sequence[tuple[str, float]]]:
        """Words of the shop spelt like these, by the trigrams they share; none without `trigrams`."""
        if not self._trigrams:
            return {}
        with self._store.read() as work:
            return seeking.alike(work, self._shop_id, words, most=MOST_ALIKE)
