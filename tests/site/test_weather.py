"""Daily weather in the layouts people download is read, and what cannot be read is named by its line."""

from pathlib import Path

import numpy as np
import pytest

from gardenkit.findings import GardenError
from gardenkit.site.weather import monthly_means, read_weather, yearly_minima

SHARED = Path(__file__).resolve().parents[3] / "shared" / "data"
PLAIN = "date,tmin,tmax,rain\n2012-01-01,5.0,12.8,0.0\n2012-01-02,2.8,10.6,10.9\n"


def test_plain_table_is_metric() -> None:
    weather = read_weather(PLAIN)
    assert len(weather) == 2
    assert weather.dates.astype(str).tolist() == ["2012-01-01", "2012-01-02"]
    assert (weather.tmin.tolist(), weather.tmax.tolist()) == ([5.0, 2.8], [12.8, 10.6])
    assert weather.rain.tolist() == [0.0, 10.9]


@pytest.mark.parametrize(
    ("header", "row", "units"),
    [
        ("date,tmin_C,tmax_C,precip_mm", "2012-01-01,0,10,25.4", "metric"),
        ("Date,TMIN (°F),TMAX (°F),PRCP (in)", "2012-01-01,32,50,1", "metric"),
        ("DATE,PRCP,TMAX,TMIN", "2012-01-01,1.00,50,32", "us"),
        ("STATION,NAME,DATE,PRCP,TMAX,TMIN", 'X1,"SOMEWHERE, US",2012-01-01,254,100,0', "ghcn_tenths"),
        ("date;tmin_C;tmax_C;rain_cm", "2012-01-01;0,0;10,0;2,54", "metric"),
        ("time,temperature_2m_max (°C),temperature_2m_min (°C),rain_sum (mm)", "2012-01-01,10,0,25.4", "metric"),
        ("Date\tMinimum Temperature (Degrees C)\tMaximum Temperature (C)\tRainfall [in]", "2012-01-01\t0\t10\t1", "us"),
    ],
)
def test_open_layouts_come_out_the_same(header: str, row: str, units: str) -> None:
    weather = read_weather(f"{header}\n{row}\n", units=units)  # type: ignore[arg-type]
    assert weather.tmin[0] == pytest.approx(0, abs=1e-9)
    assert weather.tmax[0] == pytest.approx(10)
    assert weather.rain[0] == pytest.approx(25.4)


def test_notes_above_the_heading_and_comments_are_skipped() -> None:
    text = "latitude,longitude\n47.6,-122.3\n\n" + PLAIN + "# end\n\n"
    assert len(read_weather(text)) == 2


def test_missing_values_become_nan_and_a_trace_of_rain_is_none() -> None:
    weather = read_weather("date,tmin,tmax,rain\n2012-01-01,,NA,T\n2012-01-02,-9999,5,M\n")
    assert np.isnan(weather.tmin).all()
    assert np.isnan(weather.tmax).tolist() == [True, False]
    assert (weather.rain[0], np.isnan(weather.rain[1])) == (0.0, True)


def test_rain_may_be_absent_and_days_in_any_order() -> None:
    weather = read_weather("date,tmin,tmax\n2012-01-02,1,2\n2012-01-01,0,1\n")
    assert weather.tmin.tolist() == [0.0, 1.0]
    assert np.isnan(weather.rain).all()


def test_decimal_commas_are_read_and_of_two_meanings_the_one_that_can_be() -> None:
    weather = read_weather('date;tmin;tmax;rain\n2012-01-01;-1,5;1,250;"1.250,5"\n2012-01-02;1.250;3;0.125\n')
    assert weather.tmin.tolist() == [-1.5, 1.25]
    assert weather.tmax.tolist() == [1.25, 3.0]
    assert weather.rain.tolist() == [1250.5, 0.125]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (PLAIN + "3/1/2012,1,2,0\n", r'line 4: the date "3/1/2012" is not an ISO date'),
        (PLAIN + "2012-01-03,cold,2,0\n", r'line 4: "cold" under tmin is not a number'),
        (PLAIN + "2012-01-03,9,2,0\n", r"line 4: tmin 9 C is above tmax 2 C"),
        (PLAIN + "2012-01-03,1\n", r"line 4: 2 values where the heading has 4"),
        (PLAIN + "2012-01-01,1,2,0\n", r"line 4: 2012-01-01 is there already on line 2"),
        (PLAIN + "2012-01-03,50,128,0\n", r"line 4: 128 under tmax reads as 128 C, outside -90 to 60"),
        (PLAIN + '2012-01-03,1,2,"1,250"\n', r'line 4: "1,250" under rain could mean two numbers'),
        (PLAIN + "2012-01-03,1,2,1_000\n", r'line 4: "1_000" under rain is not a number'),
        (PLAIN + "2012-01-03,٣,4,0\n", r'line 4: "٣" under tmin is not a number'),
        (PLAIN + "2012-01-03,inf,4,0\n", r'line 4: "inf" under tmin is not a number'),
        (PLAIN + "2012-01-03,1,2,-4\n", r"line 4: -4 under rain reads as -4 mm"),
        ("date,tmin,rain\n2012-01-01,1,0\n", r"line 1: there is no tmax column"),
        ("a,b,c\n1,2,3\n", "no heading line"),
        ("date,tmin,tmax\n", "no days below it"),
        ("date,tmin,tmin_C,tmax\n2012-01-01,1,1,2\n", "both look like tmin"),
        ("date,tmin_F,tmax_F,prcp\n2012-01-01,32,50,1\n", '"prcp" names no unit'),
        ("date,tmin_mm,tmax\n2012-01-01,1,2\n", "does not suit tmin"),
    ],
)
def test_a_table_that_cannot_be_read_names_its_line(text: str, message: str) -> None:
    with pytest.raises(GardenError, match=message):
        read_weather(text)


def test_a_file_that_is_not_there_is_named_without_its_folder(tmp_path: Path) -> None:
    with pytest.raises(GardenError, match=r'^the weather file "none\.csv" is not there'):
        read_weather(tmp_path / "none.csv")


def test_a_table_of_several_places_asks_which() -> None:
    text = "location,date,tmin,tmax\nUpton,2012-01-01,1,2\nDownton,2012-01-01,3,4\n"
    with pytest.raises(GardenError, match="2 places; say which: Upton, Downton"):
        read_weather(text)
    assert read_weather(text, place="Downton").tmin.tolist() == [3.0]
    with pytest.raises(GardenError, match='nearest known is "Upton"'):
        read_weather(text, place="Uptown")


def test_records_compare_by_what_they_hold() -> None:
    assert read_weather(PLAIN) == read_weather(PLAIN)
    assert read_weather(PLAIN) != read_weather(PLAIN.replace("10.9", "11"))
    gaps = "date,tmin,tmax\n2012-01-01,,2\n"
    assert read_weather(gaps) == read_weather(gaps)


def days(first: str, last: str, tmin: str = "1", tmax: str = "9", rain: str = "2") -> str:
    dates = np.arange(np.datetime64(first), np.datetime64(last) + 1)
    return "date,tmin,tmax,rain\n" + "".join(f"{day},{tmin},{tmax},{rain}\n" for day in dates)


def test_monthly_rain_is_the_total_of_the_month() -> None:
    rain = monthly_means(read_weather(days("2013-01-01", "2013-12-31")), "rain")
    assert rain is not None
    assert rain == pytest.approx([62, 56, 62, 60, 62, 60, 62, 62, 60, 62, 60, 62])


def test_a_month_with_too_few_days_leaves_the_means_unknown() -> None:
    assert monthly_means(read_weather(days("2013-01-10", "2013-12-31")), "tmin") is None


def test_a_winter_runs_from_july_and_is_named_by_the_year_it_starts_in() -> None:
    text = days("2012-07-01", "2014-06-30")
    for day, cold in (("2013-01-15", "-4"), ("2013-06-30", "-9"), ("2013-07-01", "-5")):
        text = text.replace(f"{day},1,", f"{day},{cold},")
    weather = read_weather(text)
    assert yearly_minima(weather, year="winter") == {2012: -9.0, 2013: -5.0}
    assert yearly_minima(weather) == {2013: -9.0}  # the two half years do not count


if SHARED.is_dir():

    @pytest.mark.parametrize("place", ["Seattle", "New York"])
    def test_four_years_of_open_daily_weather_are_read_whole(place: str) -> None:
        """NOAA NCDC daily weather 2012-2015."""
        weather = read_weather(SHARED / "daily_weather_seattle_newyork_2012_2015.csv", place=place)
        assert len(weather) == 1461
        assert not np.isnan(weather.tmin).any()
