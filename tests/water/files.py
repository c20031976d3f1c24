"""Gauge files as their keepers write them. Headings and first rows: check against the providers' own files."""

NOAA = """Date Time, Water Level, Sigma, O or I (for verified), F, R, L, Quality
2024-05-06 12:00,1.765,0.06,0,0,0,0,v
2024-05-06 12:06,,,,,,,
2024-05-06 12:12,0.000,0.06,0,0,0,0,p
2024-05-06 12:18,1.801,0.06,0,1,0,0,v
2024-05-06 12:24,1.799,0.06,1,0,0,0,v
2024-05-06 12:30,1.797,0.06,1,0,0,0,p
"""
NOAA_PREDICTED = "Date Time, Prediction\n2024-05-06 12:00,0.719\n2024-05-06 12:06,0.731\n"
USGS = """# ---------------------------------- WARNING ----------------------------------------
# Some of the data may be provisional.
#
agency_cd\tsite_no\tdatetime\ttz_cd\t03_00065\t03_00065_cd
5s\t15s\t20d\t6s\t14n\t10s
USGS\t11143000\t2010-03-01 00:00\tPST\t5.0\tA
USGS\t11143000\t2010-03-01 00:15\tPST\t\tA
USGS\t11143000\t2010-03-01 00:30\tPST\tIce\tP
USGS\t11143000\t2010-03-01 00:45\tPST\t4.5\tP:e
"""
CANADA = (
    " ID,Date,Water Level / Niveau d'eau (m),Grade,Symbol / Symbole,QA/QC,Discharge / Débit (cms),Grade,"
    "Symbol / Symbole,QA/QC\n"
    "02AB006,2018-07-01T00:55:00-05:00,302.273,,,1  ,62.2,,,1\n"
    "02AB006,2018-07-01T01:00:00-05:00,,,,1  ,62.0,,,1\n"
    "02AB006,2018-07-01T01:05:00-05:00,302.271,,E,1  ,,,,1\n"
)
