"""What a monitoring program reads: counts of work, no place and no person (OpenMetrics 1.0)."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

OPENMETRICS = "application/openmetrics-text; version=1.0.0; charset=utf-8"


@dataclass(frozen=True, slots=True)
class Metric:
    """One family: its name and meaning, and its values by the label they differ in (one value without label: "")."""

    name: str
    type: str
    help: str
    values: Mapping[str, int]
    label: str = ""

    def lines(self) -> Iterable[str]:
        yield f"# TYPE {self.name} {self.type}"
        yield f"# HELP {self.name} {self.help}"
        sample = f"{self.name}_total" if self.type == "counter" else self.name
        for word, value in self.values.items():
            label = f'{{{self.label}="{word}"}}' if self.label else ""
            yield f"{sample}{label} {value}"


def exposition(metrics: Iterable[Metric]) -> str:
    """The text as the format asks for it, with its end marked."""
    return "\n".join([*(line for metric in metrics for line in metric.lines()), "# EOF"]) + "\n"
