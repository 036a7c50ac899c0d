"""What travels to a worker."""

from __future__ import annotations

__all__: list[str] = []
