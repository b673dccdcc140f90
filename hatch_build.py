"""Keep a wheel or an sdist from being built without the Python that runs on a page."""

import json
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

RUNTIME = Path("src") / "crankpin" / "browser" / "runtime_files"


class RuntimeHook(BuildHookInterface):  # type: ignore[type-arg]
    """Looks for the runtime before anything is packed."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Stop where a file of the runtime is missing; an editable install may do without."""
        if version != "editable":
            missing = missing_files(Path(self.root) / RUNTIME)
            if missing:
                raise FileNotFoundError(
                    f"{', '.join(missing)} of the page's Python missing: run 'make runtime' (it needs Node) first"
                )


def missing_files(folder: Path) -> list[str]:
    """Return the files that the runtime's manifest lists and the folder lacks; the manifest itself among them."""
    manifest = folder / "manifest.json"
    if not manifest.is_file():
        return [manifest.name]
    files = json.loads(manifest.read_text(encoding="utf-8"))["files"].values()
    names = [name for file in files for name in (file["name"], file.get("packed", {}).get("name")) if name]
    return [name for name in names if not (folder / name).is_file()]
