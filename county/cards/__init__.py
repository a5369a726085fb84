"""The cards that go out with the material: one for each place, to open its sheet, text and call."""
