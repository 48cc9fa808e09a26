"""Nothing of the program opens a connection or looks a name up: neither the commands nor the window."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from rampdraft.files.samples import samples_folder

ROOT = Path(__file__).parent.parent.parent
STAGE = samples_folder() / "barn-stage.toml"
BEGIN = """
import sys
def hook(event, given):
    inet = event == "socket.__new__" and int(given[1]) in (2, 10, 23, 30)
    if inet or event.startswith(("socket.connect", "socket.bind", "socket.get", "socket.send", "urllib")):
        print("NETWORK", event, given, flush=True)
sys.addaudithook(hook)
"""
END = """
import os
from pathlib import Path
if Path("/proc/net/tcp").exists():
    handles = [f"/proc/self/fd/{handle}" for handle in os.listdir("/proc/self/fd")]
    links = {os.readlink(handle) for handle in handles if os.path.islink(handle)}
    numbers = {link[8:-1] for link in links if link.startswith("socket:[")}
    for kind in ("tcp", "tcp6", "udp", "udp6"):
        table = Path("/proc/net", kind)
        rows = [line.split() for line in table.read_text().splitlines()[1:]] if table.exists() else []
        print(*[f"NETWORK {kind}" for row in rows if row[9] in numbers], sep="")
print("END")
"""
COMMANDS = f"""
from rampdraft.cli.main import run
for arguments in (["check", {str(STAGE)!r}, "--json"], ["export", {str(STAGE)!r}, "--to", "pack"]):
    run(arguments, lambda file: 0)
"""
WINDOW = f"""
from PySide6.QtCore import QSettings
QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "settings")
from rampdraft.app.shell.main import run
run({str(STAGE)!r}, show_for_ms=1500)
"""
CONNECTING = """
import socket
one = socket.socket()
one.bind(("127.0.0.1", 0))
one.listen()
"""


def told_by(code: str, folder: Path) -> list[str]:
    environment = os.environ | {"PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen"}
    command = [sys.executable, "-c", BEGIN + code + END]
    done = subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, timeout=300, check=True
    )
    assert done.stdout.endswith("END\n")
    return [line for line in done.stdout.splitlines() if "NETWORK" in line]


@pytest.mark.parametrize("code", [COMMANDS, WINDOW], ids=["commands", "window"])
def test_nothing_opens_a_connection(code: str, tmp_path: Path) -> None:
    assert told_by(code, tmp_path) == []


def test_the_look_at_it_sees_one(tmp_path: Path) -> None:
    told = told_by(CONNECTING, tmp_path)
    assert any("socket.bind" in line for line in told)
