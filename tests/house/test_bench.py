"""The yardstick of speed still makes the pages that it is held against."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

BENCH = Path(__file__).resolve().parent.parent / "bench"
MAKE = "import sys; from pathlib import Path; from corpus import write_guide; write_guide(Path(sys.argv[1]), 40)"


def test_the_straight_loop_makes_accounts_pairs_groups_and_cards(tmp_path: Path) -> None:
    """It takes the templates of the guide, so that whoever changes what they ask for has to give it to both."""
    env = {**os.environ, "PYTHONPATH": f"{BENCH}{os.pathsep}{os.environ.get('PYTHONPATH', '')}"}
    guide, target = tmp_path / "guide", tmp_path / "pages"
    for words in (["-c", MAKE, str(guide)], [str(BENCH / "straight.py"), str(guide), str(target)]):
        done = subprocess.run([sys.executable, *words], capture_output=True, text=True, check=False, env=env)
        assert done.returncode == 0, done.stderr
    made = {path.relative_to(target).parts[0] for path in target.rglob("*.html")}
    assert made == {"species", "pairs", "groups", "cards"}
    assert len(list((target / "species").iterdir())) == 40
