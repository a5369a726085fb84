"""What is printed: the report and the activity log, typeset with Typst; charts are drawn as vectors."""
