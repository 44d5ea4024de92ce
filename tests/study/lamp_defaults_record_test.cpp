// What answers and questions say before anything is filled in.

#include <catch2/catch.hpp>

#include "keyhour/study/countdown.hpp"
#include "keyhour/study/day_light.hpp"
#include "keyhour/study/lamp_day.hpp"
#include "keyhour/study/sheet_day.hpp"
#include "keyhour/study/sun_turns.hpp"
#include "keyhour/study/timetable.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;

TEST_CASE("nothing is told before it is known, and defaults are those recorded", "[recorded]") {
    Record record{"lamp_defaults"};
    record.add("shot_wish", ShotWish{});
    record.add("timed_shot", TimedShot{});
    record.add("countdown_step", CountdownStep{});
    record.add("day_event", DayEvent{});
    record.add("absent_event", AbsentEvent{});
    record.add("over_horizon", SunOverHorizon{});
    record.add("day_light", DayLight{});
    record.add("window_sun", WindowSun{});
    record.add("cover_need", CoverNeed{});
    record.add("lamp_day_question", LampDayQuestion{});
    record.add("cloth", ClothToHang{});
    record.add("lamp_hour", LampHour{});
    record.add("move", DaylightMove{});
    record.add("wanted_key", WantedKey{});
    record.add("wanted_fill", WantedFill{});
    record.add("lamp_question", LampQuestion{});
    record.add("sun_to_match", SunToMatch{});
    record.add("lamp_report", LampReport{});
    record.add("stand_wish", StandWish{});
    record.add("obstacle", Obstacle{});
    record.add("stand_place", StandPlace{});
    record.add("stand_answer", StandAnswer{});
    record.add("also_enters", AlsoEnters{});
    record.add("lamp_light", LampLight{});
    record.add("stand_doubt", StandDoubt{});
    record.add("difference", SunDifference{});
    record.add("fill_wish", FillWish{});
    record.add("fill_answer", FillAnswer{});
    record.add("leak", Leak{});
    record.add("cover", CoverToHang{});
    record.add("cloth_size", ClothSize{});
    record.add("lit_sheer", LitSheer{});
    record.add("lock", LockAnswer{});
    record.add("opening", OpeningSun{});
    record.add("asked", AskedOfSun{});
    record.add("reading", MarkReading{});
    record.add("lamp_settings", LampSettings{});
    record.add("sun_free", SunFreeSpan{});
    record.add("cover_span", CoverSpan{});
    record.add("moment", Moment{});
    record.add("timed_task", TimedTask{});
    record.add("timetable", Timetable{});
    record.check();
}
