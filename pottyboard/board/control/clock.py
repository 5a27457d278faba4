"""The clock at the edge."""

from __future__ import annotations

from datetime import UTC, datetime

from pottyboard.core.model.localtime import zone_named


def system_now() -> datetime:
    """Return the instant now, in UTC."""
    return datetime.now(UTC)


def zone_of(now: datetime) -> str:
    """Return the IANA name of the zone of an instant, or else of this computer; UTC if unknown."""
    name = getattr(now.tzinfo, "key", "UTC")
    if name != "UTC":
        return str(name)
    from pendulum.tz.local_timezone import get_local_timezone

    try:
        return zone_named(get_local_timezone().name or "UTC").key
    except (LookupError, OSError, RuntimeError, ValueError):
        return "UTC"
