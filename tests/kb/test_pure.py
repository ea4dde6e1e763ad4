"""The engine works where there is neither web framework nor database."""

import subprocess
import sys

BARE = """
import importlib.abc, sys

class Absent(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in {"litestar", "sqlalchemy", "alembic", "httpx", "baylore_service"}:
            raise ModuleNotFoundError(name)

sys.meta_path.insert(0, Absent())
from baylore_kb import Complaint, Snapshot, advise
answer = advise(Complaint("one click, no crank"), Snapshot.build([]))
print(answer.next.do, round(sum(c.probability for c in answer.causes) + answer.unlisted, 6))
"""


def test_a_question_is_answered_without_web_or_database_installed():
    done = subprocess.run([sys.executable, "-c", BARE], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split()[1] == "1.0"
