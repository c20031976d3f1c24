"""The crew's paper: what stands on each sheet, and the sheet itself."""
