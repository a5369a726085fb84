"""The review pack: what happened and who knew when, as files that anybody can read and check."""
