"""What every caution says of itself: where it stands, and what goes before it."""

from jobs.domain.site.facts import Place

ON_SITE: tuple[Place, ...] = ("packet", "job")
DEFER = "Local codes and licensed people go before this note."
