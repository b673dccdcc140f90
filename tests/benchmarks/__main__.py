"""Every benchmark, one after another, as one JSON object: printed, and written to ``build/bench.json``.

    .venv/bin/python -m tests.benchmarks [NAME ...]

Needs a course that was built with ``crankpin site``. Each runs in a process of its own. One that fails leaves its
message in the place of its result, and the others go on; the exit status says so.
"""

import json
import subprocess
import sys
from pathlib import Path

FILE = Path(__file__).resolve().parents[2] / "build" / "bench.json"
NAMES = ("evaluations", "weight", "start", "latency", "memory", "frames", "building", "paper")


def result_of(name: str) -> dict[str, object]:
    """Run one benchmark and return what it prints."""
    print(f"{name} ...", file=sys.stderr, flush=True)
    command = [sys.executable, "-m", f"tests.benchmarks.{name}"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        return {"failed": (done.stderr.strip().splitlines() or [f"exit status {done.returncode}"])[-1]}
    found: dict[str, object] = json.loads(done.stdout)
    return found


def main(names: list[str]) -> int:
    """Run the benchmarks of these names, all where there is none."""
    unknown = sorted(set(names) - set(NAMES))
    if unknown:
        raise SystemExit(f"There is no benchmark {', '.join(unknown)}; there are {', '.join(NAMES)}.")
    found = {name: result_of(name) for name in names or NAMES}
    text = json.dumps(found, indent=2)
    FILE.parent.mkdir(exist_ok=True)
    FILE.write_text(text + "\n", encoding="utf-8")
    print(text)
    return any("failed" in one for one in found.values())


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
