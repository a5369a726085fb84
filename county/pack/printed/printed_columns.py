"""PRINTED: which columns of each subject the report has room for, each so many letters wide; 0 is what is left."""

from collections.abc import Mapping

PRINTED: Mapping[str, Mapping[str, float]] = {
    "places": {
        "place": 3.6, "name": 0, "opens_at": 4, "opened_at": 4.1, "minutes_late": 4.2, "learned_at": 4.1,
        "closed_at": 4.1, "received_at": 6.2, "lost_minutes": 4.2, "cases": 3.2, "open_cases": 3.2,
    },
    "late_openings": {
        "place": 3.2, "name": 12, "opens_at": 3.8, "opened_at": 4.1, "minutes": 4, "learned_at": 4.1,
        "acknowledged_at": 6.9, "trouble": 0, "told": 6,
    },
    "not_reported_open": {
        "place": 3.2, "name": 15, "opens_at": 3.8, "minutes": 6.5, "noticed_at": 6, "acknowledged_at": 7, "trouble": 0,
    },
    "forecasts": {
        "place": 3.2, "name": 10, "said_at": 4.4, "minutes_before": 4.6, "chance": 3.6, "opened_at": 4.2,
        "minutes_late": 4.2, "came_true": 5.4, "says": 0,
    },
    "forecast_scores": {
        "lead_minutes": 4.6, "chance": 0, "places": 3.4, "late": 4, "said": 3.8, "came": 3.4, "brier": 3.6,
        "base_brier": 3.8, "skill": 3.6, "band_held": 4.2, "unheard": 3.8, "unsettled": 4.2,
    },
    "time_lost": {
        "place": 4, "name": 0, "late_minutes": 6, "stops": 3.2, "minutes": 6, "reaches_threshold": 5,
        "closes_if_given_back": 8, "impaired": 8,
    },
    "interruptions": {
        "place": 3.2, "begins": 4.1, "ends": 4.1, "minutes": 4.4, "effect": 4.8, "exception": 11, "device": 4.8,
        "offered": 0, "voters_left": 3.4, "counted": 5,
    },
    "response_times": {
        "group": 0, "milestone": 6.6, "cases": 3.4, "reached": 4.2, "open": 3.8, "ended_otherwise": 4.8, "untimed": 4,
        "median": 7.4, "ninetieth": 7.4, "in_time": 4.4,
    },
    "exceptions_by_kind": {
        "says": 0, "worst": 4.6, "cases": 3.6, "places": 3.6, "open": 3.4, "cleared": 4.2, "cleared_by_facts": 5,
        "withdrawn": 5.6, "median": 7.4, "ninetieth": 7.4,
    },
    "silences": {
        "place": 4, "name": 0, "since": 7, "until": 6, "minutes": 5, "allowed": 6,
        "noticed_at": 7, "acknowledged_at": 8,
    },
    "rovers": {
        "rover": 3.2, "name": 0, "cases": 3.2, "reached": 4.4, "cleared": 4.2, "turned_down": 3.8,
        "under_way_minutes": 4.4, "on_site_minutes": 4.4, "no_way_time": 4.2, "no_site_time": 4.2, "first": 4.1,
        "last": 4.1,
    },
    "ballot_balance": {
        "place": 3.2, "name": 0, "delivered": 4.8, "left": 3, "not_scanned": 4, "by_paper": 5, "scanned": 5,
        "difference": 5.2, "note": 8, "missing": 5.4,
    },
    "custody": {
        "place": 3.2, "name": 0, "left_at": 4.1, "received_at": 6.2, "minutes": 4.6, "items_missing": 8,
        "seals_as_put_on": 5, "seals_differing": 8, "seals_not_checked": 5,
    },
    "notices": {
        "place": 4, "case": 0, "role": 6, "person": 7, "channel": 6, "due_at": 6, "owed_at": 6, "became": 9,
    },
    "corrections": {
        "place": 3.2, "report": 3.2, "report_happened_at": 4.4, "report_says": 0, "correction": 4.4, "learned_at": 4.4,
        "correction_says": 11, "by": 7.5, "now": 5,
    },
    "set_aside": {
        "item": 3, "received_at": 6, "reason": 8, "says": 0, "door": 6, "outcome": 9, "settled_at": 6,
        "outcome_says": 9,
    },
    "device_logs": {
        "place": 3.2, "device": 4.8, "claim": 7.4, "reported_at": 4.8, "log_at": 4.4, "verdict": 8.5,
        "seconds_later": 4.2, "clock": 5, "says": 0,
    },
    "device_log_faults": {"place": 5, "device": 8, "fault": 12, "says": 0, "file": 12},
    "missing": {"missing": 18, "says": 0, "how_many": 5},
}  # fmt: skip
