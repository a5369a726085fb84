"""The rover's page: a phone's view of what is assigned to one rover, and the few answers its script asks for."""
