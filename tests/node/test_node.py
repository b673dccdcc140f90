"""What the browser's scripts work out without a browser, tested by Node's own test runner."""

import re
import shutil
import subprocess
from pathlib import Path

HERE = Path(__file__).parent


def test_what_needs_no_browser():
    node = shutil.which("node")
    assert node, "Node.js was not found; install Node.js 18 or later."
    files = sorted(str(path) for path in HERE.glob("*.test.mjs"))
    run = subprocess.run([node, "--test", *files], capture_output=True, text=True, timeout=120, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
    passed = re.search(r"pass (\d+)$", run.stdout, re.MULTILINE)
    written = sum(path.read_text(encoding="utf-8").count("\ntest(") for path in HERE.glob("*.test.mjs"))
    assert passed and int(passed[1]) == written
