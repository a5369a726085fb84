"""PRINTED: which columns of each subject the report has room for, each so many letters wide; 0 is what is left."""

from collections.abc import Mapping

PRINTED: Mapping[str, Mapping[str, int]] = {
    "places": {
        "place": 5, "name": 0, "opens_at": 5, "opened_at": 5, "minutes_late": 5, "learned_at": 6,
        "closed_at": 5, "received_at": 6, "lost_minutes": 5, "cases": 4, "open_cases": 5,
    },
    "late_openings": {
        "place": 4, "name": 10, "opens_at": 5, "opened_at": 5, "minutes": 5, "learned_at": 6, "acknowledged_at": 8,
        "trouble": 0, "told": 7,
    },
    "forecasts": {
        "place": 4, "name": 10, "expected": 8, "said_at": 5, "minutes_before": 6, "chance": 6, "opened_at": 5,
        "minutes_late": 5, "came_true": 6, "says": 0,
    },
    "forecast_scores": {
        "lead_minutes": 7, "chance": 0, "places": 5, "late": 5, "said": 6, "came": 6, "brier": 6, "base_brier": 7,
        "skill": 6, "band_held": 7, "unheard": 6, "unsettled": 6,
    },
    "time_lost": {
        "place": 4, "name": 0, "late_minutes": 5, "stops": 4, "minutes": 5, "reaches_threshold": 8,
        "closes_if_given_back": 9, "impaired": 8,
    },
    "interruptions": {
        "place": 4, "begins": 5, "ends": 5, "minutes": 5, "effect": 6, "exception": 0, "offered": 11, "voters_left": 5,
        "counted": 7,
    },
    "response_times": {
        "group": 0, "milestone": 7, "cases": 4, "reached": 5, "open": 4, "ended_otherwise": 6, "untimed": 5,
        "median": 8, "ninetieth": 8, "in_time": 6,
    },
    "exceptions_by_kind": {
        "says": 0, "worst": 6, "cases": 4, "places": 4, "open": 4, "cleared": 5, "cleared_by_facts": 7, "withdrawn": 6,
        "median": 7, "ninetieth": 7,
    },
    "silences": {
        "place": 4, "name": 0, "since": 7, "until": 6, "minutes": 5, "allowed": 6,
        "noticed_at": 7, "acknowledged_at": 8,
    },
    "rovers": {
        "rover": 4, "name": 0, "cases": 4, "reached": 5, "cleared": 5, "turned_down": 5, "under_way_minutes": 6,
        "on_site_minutes": 6, "no_way_time": 6, "no_site_time": 6, "first": 5, "last": 5,
    },
    "ballot_balance": {
        "place": 4, "name": 0, "delivered": 6, "left": 4, "not_scanned": 5, "by_paper": 6, "scanned": 6,
        "difference": 6, "note": 7, "missing": 7,
    },
    "custody": {
        "place": 4, "name": 0, "left_at": 5, "received_at": 6, "minutes": 6, "items_missing": 12, "seals_as_put_on": 6,
        "seals_differing": 12, "seals_not_checked": 9,
    },
    "notices": {
        "place": 4, "case": 0, "role": 6, "person": 7, "channel": 6, "due_at": 5, "owed_at": 6, "became": 8, "at": 5,
    },
    "corrections": {
        "place": 4, "report": 4, "report_happened_at": 6, "report_says": 0, "correction": 5, "learned_at": 6,
        "correction_says": 17, "by": 6, "now": 7,
    },
    "set_aside": {
        "item": 3, "received_at": 6, "reason": 8, "says": 0, "door": 6, "outcome": 9, "settled_at": 6,
        "outcome_says": 9,
    },
    "device_logs": {
        "place": 4, "device": 7, "claim": 8, "reported_at": 6, "log_at": 6, "verdict": 10, "seconds_later": 6,
        "clock": 6, "says": 0,
    },
    "device_log_faults": {"place": 5, "device": 8, "fault": 12, "says": 0, "file": 12},
    "missing": {"place": 7, "missing": 18, "says": 0, "how_many": 5},
}  # fmt: skip
