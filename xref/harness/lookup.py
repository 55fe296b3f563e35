"""The look-ups, under one roof for those that ask: circuit, cavity, connector, free text, trace, module."""

from __future__ import annotations

from xref.harness.circuit import answer_circuit
from xref.harness.connector import answer_cavity, answer_connector
from xref.harness.find import answer_find
from xref.harness.module import module_sheet
from xref.harness.trace import answer_trace

__all__ = [
    "answer_cavity",
    "answer_circuit",
    "answer_connector",
    "answer_find",
    "answer_trace",
    "module_sheet",
]
