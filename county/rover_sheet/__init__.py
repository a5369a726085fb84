"""The printed rover sheet: one rover's assignments on paper."""
