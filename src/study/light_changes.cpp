#include "keyhour/study/light_changes.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/study/patch_day.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {
namespace {

using ChangeKind = LightChange::Kind;

constexpr Seconds change_stride{300}, as_good_as_with{60};

class Changes {
public:
    Changes(const RoomStudy& study, const DayStrip& strip) : study_{study}, strip_{strip} {}

    std::vector<LightChange> list() {
        for (const WindowSun& sun : strip_.windows)
            if (lets_sun_in(study_.room().windows[sun.window])) add_sun(sun);
        mark_first_and_last();
        add_keys();
        std::ranges::stable_sort(out_, [](const LightChange& a, const LightChange& b) {
            return a.at != b.at ? a.at < b.at : a.kind < b.kind;
        });
        return std::move(out_);
    }

private:
    void add_sun(const WindowSun& sun) {
        for (const Span& span : sun.stated) {
            out_.push_back({span.from, ChangeKind::sun_in, sun.window});
            add_floor(sun.window, span);
            out_.push_back({span.to, ChangeKind::sun_out, sun.window});
        }
    }

    [[nodiscard]] bool is_on_floor(std::size_t window, Instant t) const {
        const PatchInstant now = patches_at(study_, t);
        return std::ranges::any_of(now.patches, [&](const WindowPatch& p) {
            return p.window == window && p.patch.surface.kind == room::Surface::Kind::floor;
        });
    }

    void add_floor(std::size_t window, const Span& span) {
        Instant before = span.from + as_good_as_with;
        const Instant end = span.to - as_good_as_with;
        bool was = is_on_floor(window, before);
        while (before < end) {
            const Instant next = std::min(before + change_stride, end);
            const bool now = is_on_floor(window, next);
            if (now != was)
                out_.push_back({crossing(window, before, next, now),
                                now ? ChangeKind::floor_reached : ChangeKind::floor_left, window});
            was = now;
            before = next;
        }
    }

    [[nodiscard]] Instant crossing(std::size_t window, Instant a, Instant b, bool after) const {
        while ((b - a).count() > 1) {
            const Instant middle = a + 0.5 * (b - a);
            (is_on_floor(window, middle) == after ? b : a) = middle;
        }
        return b;
    }

    void mark_first_and_last() {
        // Patches come to the floor and leave it while the sun is in.
        if (out_.empty()) return;
        std::ranges::min_element(out_, {}, &LightChange::at)->is_first_or_last = true;
        std::ranges::max_element(out_, {}, &LightChange::at)->is_first_or_last = true;
    }

    void add_keys() {
        const auto add = [&](const LightChange& change) {  // once for several cameras
            const bool known = std::ranges::any_of(out_, [&](const LightChange& c) {
                return c.kind == change.kind && c.window == change.window &&
                       c.mark == change.mark && std::abs((c.at - change.at).count()) < 1;
            });
            if (!known) out_.push_back(change);
        };
        for (const KeyInterval& k : strip_.keys) {
            if (!k.span) continue;
            add({k.span->from, ChangeKind::key_begins, k.window, k.mark});
            add({k.span->to, ChangeKind::key_ends, k.window, k.mark});
        }
    }

    const RoomStudy& study_;
    const DayStrip& strip_;
    std::vector<LightChange> out_;
};

}  // namespace

std::vector<LightChange> light_changes(const RoomStudy& study, const DayStrip& strip) {
    return Changes{study, strip}.list();
}

}  // namespace keyhour::study
