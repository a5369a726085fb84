"""The database itself refuses to change or remove what was kept, or to add it out of order."""

from sqlalchemy import Dialect


def append_only(dialect: Dialect, table: str, number: str, unique: tuple[tuple[str, ...], ...]) -> tuple[str, ...]:
    """The statements that make a table append-only, numbered 1, 2, 3 … by the column `number`."""
    return (_sqlite if dialect.name == "sqlite" else _postgresql)(table, number, unique)


def _sqlite(table: str, number: str, unique: tuple[tuple[str, ...], ...]) -> tuple[str, ...]:
    refuse = "BEGIN SELECT RAISE(ABORT, '{table}: {says}'); END"
    # INSERT OR REPLACE would remove the row it replaces without asking a delete trigger
    held = " OR ".join(
        f"EXISTS (SELECT 1 FROM {table} WHERE " + " AND ".join(f"{c} = NEW.{c}" for c in columns) + ")"
        for columns in unique
    )
    following = f"NEW.{number} IS NOT (SELECT coalesce(max({number}), 0) + 1 FROM {table})"
    return (
        f"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} "
        + refuse.format(table=table, says="nothing is changed"),
        f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} "
        + refuse.format(table=table, says="nothing is deleted"),
        f"CREATE TRIGGER {table}_in_order BEFORE INSERT ON {table} WHEN {following} "
        + refuse.format(table=table, says="numbers follow one another"),
        f"CREATE TRIGGER {table}_once BEFORE INSERT ON {table} WHEN {held} "
        + refuse.format(table=table, says="already held"),
    )


def _postgresql(table: str, number: str, unique: tuple[tuple[str, ...], ...]) -> tuple[str, ...]:
    return (
        f"""CREATE FUNCTION {table}_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
            BEGIN RAISE EXCEPTION '{table}: nothing is changed or deleted'; END $$""",
        f"""CREATE FUNCTION {table}_follow() RETURNS trigger LANGUAGE plpgsql AS $$
            BEGIN
                IF NEW.{number} IS DISTINCT FROM (SELECT coalesce(max({number}), 0) + 1 FROM {table}) THEN
                    RAISE EXCEPTION '{table}: numbers follow one another';
                END IF;
                RETURN NEW;
            END $$""",
        f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE ON {table} "
        f"FOR EACH ROW EXECUTE FUNCTION {table}_refuse()",
        f"CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table} "
        f"FOR EACH STATEMENT EXECUTE FUNCTION {table}_refuse()",
        f"CREATE TRIGGER {table}_in_order BEFORE INSERT ON {table} FOR EACH ROW EXECUTE FUNCTION {table}_follow()",
    )
