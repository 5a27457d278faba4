"""TinyDB as the store uses it: tables whose ids are our own text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tinydb import TinyDB
from tinydb.table import Document, Table


class _TextIds(Table):
    """A TinyDB table whose ids are our own text: stock numbers are used again after a delete."""

    document_id_class = str  # type: ignore[assignment]
    default_query_cache_capacity = 0


class Database(TinyDB):
    """A TinyDB with such tables."""

    table_class = _TextIds


def document(row_id: str, row: Mapping[str, Any]) -> Document:
    """Return a TinyDB document under our own id."""
    return Document(row, row_id)  # type: ignore[arg-type]
