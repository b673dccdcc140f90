"""Each stand-in (runtime/stand_ins/) offers names of the module it stands for, and takes the calls that it takes."""

import json
import subprocess
from pathlib import Path

import pytest

pytestmark = pytest.mark.pyodide

ROOT = Path(__file__).resolve().parent.parent.parent
STAND_INS = ROOT / "runtime" / "stand_ins"


def compared(*sources):
    """Compare in a whole Pyodide: the project's stand-ins, or those that are given as JSON."""
    command = ["node", "tests/runtime/stand_ins.mjs", *sources]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    return json.loads(done.stdout)


def test_no_stand_in_offers_what_the_module_it_stands_for_has_not():
    answer = compared()
    paths = {path.relative_to(STAND_INS).as_posix() for path in STAND_INS.rglob("*.py")}
    assert set(answer["compared"]) == paths
    assert answer["found"] == []


def test_a_stand_in_that_went_its_own_way_is_noticed():
    strange = {
        "inspect.py": "def unwrapped(f): ...\ndef unwrap(f): ...\n",
        "asyncio.py": "def _start(): ...\n",
        "pyodide/code.py": "def eval_code(source, globals, locals): ...\n",
    }
    assert compared(json.dumps(strange))["found"] == [
        "inspect.py: inspect has no unwrapped",
        "inspect.py: unwrap refuses a call that the whole one takes: got an unexpected keyword argument 'stop'",
        "asyncio.py: asyncio has no _start",
        "pyodide/code.py: eval_code refuses a call that the whole one takes: missing a required argument: 'globals'",
        "pyodide/code.py: eval_code refuses a call that the whole one takes: got an unexpected keyword argument"
        " 'return_mode'",
    ]
