"""Read pinout tables out of service-manual PDFs; answer where else a circuit appears."""

__version__ = "0.1.0"
