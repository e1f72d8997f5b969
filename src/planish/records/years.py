"""A span of calendar years, both ends included; an open end is None."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Years:
    """Years from `earliest` to `latest`, both included.

    An end that nobody knows is None. Year 0 and negative years follow ISO 8601 (astronomical: 0 is 1 BC).
    Raises ValueError when the span ends before it begins.
    """

    earliest: int | None = None
    latest: int | None = None

    def __post_init__(self) -> None:
        if self.earliest is not None and self.latest is not None and self.earliest > self.latest:
            raise ValueError(f"{self.earliest}-{self.latest} ends before it begins")

    @property
    def bounded(self) -> bool:
        """True when both ends are known."""
        return self.earliest is not None and self.latest is not None

    def holds(self, year: int) -> bool:
        """True when `year` lies inside."""
        return (self.earliest is None or self.earliest <= year) and (
            self.latest is None or year <= self.latest
        )

    def takes_in(self, other: "Years") -> bool:
        """True when every year of `other` lies inside; an open end takes in what is open, too."""
        first = self.earliest is None or (other.earliest is not None and self.earliest <= other.earliest)
        last = self.latest is None or (other.latest is not None and other.latest <= self.latest)
        return first and last

    def meets(self, other: "Years") -> bool:
        """True when the two spans share at least one year."""
        return not self.wholly_before(other) and not other.wholly_before(self)

    def wholly_before(self, other: "Years") -> bool:
        """True when every year of this span lies before every year of `other`."""
        return self.latest is not None and other.earliest is not None and self.latest < other.earliest
