"""The officers' sheet: a page for a phone at the polling place, and the few answers its script asks for."""
