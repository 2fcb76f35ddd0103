"""What every command does alike."""

import json
import subprocess
import sys


def test_a_reader_that_has_heard_enough_is_no_fault(tmp_path):
    many = [{"kind": "years", "value": "1913/1918", "what": f"sign {n}"} for n in range(400)]
    evidence = tmp_path / "evidence.json"
    evidence.write_text(json.dumps({"parts": {"body": many}}))

    with subprocess.Popen(
        [sys.executable, "-m", "planebench", "date", str(evidence), "--json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as told:
        told.stdout.close()
        complaint = told.stderr.read()

    assert complaint == b""
    assert told.returncode == 0
