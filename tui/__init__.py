"""The terminal screens: one file a screen, one a widget, over the use cases of `intake.desk`."""
