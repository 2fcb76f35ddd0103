"""Findings that did not stop the work: printed on standard error, and as data."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import asdict

from planebench.catalog.findings import Finding


def print_findings(findings: Sequence[Finding]) -> None:
    """Print each on standard error."""
    for finding in findings:
        print(finding, file=sys.stderr)


def findings_as_data(findings: Sequence[Finding]) -> list[dict[str, str]]:
    """Return each as JSON can hold it."""
    return [asdict(finding) for finding in findings]
