#pragma once
// The rules of a plan as the constraint library (Gecode) has them; plan_search.cpp alone includes
// this.
//
// A plan is a sequence of positions. What is decided, position by position: which slot stands there
// (a scene with a stretch of time in which it may begin), and whether the gap before it is a break.
// All else are differences of times, so that the earliest times that propagation leaves are a
// solution, and the best one: slack only shrinks as times grow.

#include <algorithm>
#include <array>
#include <gecode/int.hh>
#include <gecode/minimodel.hh>
#include <utility>
#include <vector>

#include "plan_tables.hpp"

namespace keyhour::study {

using Gecode::BoolVar;
using Gecode::BoolVarArgs;
using Gecode::BoolVarArray;
using Gecode::IntArgs;
using Gecode::IntVar;
using Gecode::IntVarArgs;
using Gecode::IntVarArray;

class PlanModel final : public Gecode::IntMaximizeSpace {
public:
    PlanModel(const PlanTables& t, bool wants_best, const PlanTaste& taste)
        : t_{&t}, wants_best_{wants_best}, taste_{taste} {
        make_positions();
        link_scenes();
        follow_times();
        keep_pairs();
        if (wants_best_) reckon_worth();
        decide();
    }
    PlanModel(PlanModel& m)
        : IntMaximizeSpace{m}, t_{m.t_}, wants_best_{m.wants_best_}, taste_{m.taste_} {
        for (auto pair : {std::pair{&slot_, &m.slot_},
                          {&begin_, &m.begin_},
                          {&from_, &m.from_},
                          {&worth_, &m.worth_},
                          {&decided_, &m.decided_}})
            pair.first->update(*this, *pair.second);
    }
    Space* copy() override { return new PlanModel{*this}; }

    /// Not used as one number: constrain() compares all.
    [[nodiscard]] IntVar cost() const override { return worth_[0]; }
    void constrain(const Space& best) override {
        const auto& b = static_cast<const PlanModel&>(best);
        IntArgs values(worth_.size());
        for (int i = 0; i < worth_.size(); ++i)
            values[i] = b.worth_[i].val();
        Gecode::rel(*this, worth_, Gecode::IRT_GR, IntVarArgs(value_vars(values)));
    }

    /// Fixes all slots of the best plan so far but those of two windows of positions.
    void stay_near(const PlanModel& best, unsigned int round) {
        Gecode::Rnd random{round + 1};
        const auto any = [&](int below) {
            return static_cast<int>(random(static_cast<unsigned int>(below)));
        };
        const int first = any(slot_.size()), second = any(slot_.size());
        const int width = 3 + any(4), second_width = 1 + any(4);
        for (int p = 0; p < slot_.size(); ++p)
            if ((p < first || p >= first + width) && (p < second || p >= second + second_width))
                Gecode::rel(*this, slot_[p], Gecode::IRT_EQ, best.slot_[p].val());
    }

    /// Fixes the order of a plan that was found elsewhere.
    void follow(const Plan& plan) {
        for (int p = 0; p < slot_.size(); ++p) {
            const auto n = static_cast<std::size_t>(p);
            const int slot = n < plan.items.size() ? t_->slot_of(plan.items[n]) : t_->empty_slot();
            Gecode::rel(*this, slot_[p], Gecode::IRT_EQ, slot);
        }
    }

    [[nodiscard]] Plan plan() const {
        Plan out;
        std::vector<bool> planned(t_->problem.scenes.size());
        for (int p = 0; p < slot_.size() && slot_[p].val() != t_->empty_slot(); ++p) {
            const PlanSlot& s = t_->slots[static_cast<std::size_t>(slot_[p].val())];
            const int from = from_[p].val();
            out.items.push_back({s.scene, s.day, begin_[p].val(), from,
                                 from + t_->problem.scenes[s.scene].length, s.latest});
            planned[s.scene] = true;
        }
        for (std::size_t i = 0; i < planned.size(); ++i)
            if (!planned[i]) out.dropped.push_back(i);
        return out;
    }

private:
    IntVarArgs value_vars(const IntArgs& values) {
        IntVarArgs out;
        for (int i = 0; i < values.size(); ++i)
            out << IntVar(*this, values[i], values[i]);
        return out;
    }
    IntVarArgs vars(int count, int least, int most) { return {*this, count, least, most}; }
    /// list[slot] of every position.
    IntVarArgs by_slot(const std::vector<int>& list) {
        const auto [least, most] = std::ranges::minmax(list);
        IntVarArgs out = vars(slot_.size(), least, most);
        for (int p = 0; p < slot_.size(); ++p)
            Gecode::element(*this, IntArgs(list), slot_[p], out[p]);
        return out;
    }

    void make_positions() {
        const PlanTables& t = *t_;
        slot_ = IntVarArray{*this, t.scenes, 0, t.empty_slot()};
        begin_ = IntVarArray{*this, t.scenes, t.first, t.end};
        from_ = IntVarArray{*this, t.scenes, t.first, t.end};
        scene_ = by_slot(t.scene_of);
        day_ = by_slot(t.day_of);
        length_ = by_slot(t.length);
        place_ = by_slot(t.place);
        group_ = by_slot(t.group);
        latest_ = by_slot(t.latest);
        const IntVarArgs earliest = by_slot(t.earliest), set_up = by_slot(t.set_up);
        for (int p = 0; p < t.scenes; ++p) {
            Gecode::rel(*this, from_[p] >= earliest[p]);
            Gecode::rel(*this, from_[p] <= latest_[p]);
            end_ << expr(*this, from_[p] + length_[p]);
            if (p > 0) {
                Gecode::rel(*this, day_[p - 1] <= day_[p]);
                same_day_ << expr(*this, day_[p - 1] == day_[p]);
                const BoolVar joins = expr(*this, same_day_[p - 1] && (group_[p - 1] == group_[p]));
                const IntVar needed =
                    expr(*this, Gecode::ite(joins, IntVar(*this, 0, 0), set_up[p]));
                Gecode::rel(*this, from_[p] == begin_[p] + needed);
            } else {
                Gecode::rel(*this, from_[0] == begin_[0] + set_up[0]);
            }
            // In the day's hours, its set-up too.
            std::vector<int> opens;
            for (const PlanDay& d : t.problem.days)
                opens.push_back(d.hours.from);
            opens.push_back(t.end);
            const IntVar open{*this, t.first, t.end};
            Gecode::element(*this, IntArgs(opens), day_[p], open);
            Gecode::rel(*this, begin_[p] >= open);
        }
    }

    /// Each scene at one position, or dropped: then its position is one past the last.
    void link_scenes() {
        const PlanTables& t = *t_;
        const int n = t.scenes;
        at_ = vars(n, 0, n);
        Gecode::Matrix<BoolVarArgs> stands(BoolVarArgs(*this, n * (n + 1), 0, 1), n + 1, n);
        for (int p = 0; p < n; ++p) {
            // Scene i at position p; the last column of a position: no scene.
            BoolVarArgs who(*this, n + 1, 0, 1);
            Gecode::channel(*this, who, scene_[p]);
            for (int i = 0; i < n; ++i)
                Gecode::rel(*this, stands(p, i), Gecode::IRT_EQ, who[i]);
            if (p + 1 < n) Gecode::rel(*this, expr(*this, scene_[p] == n) >> (scene_[p + 1] == n));
        }
        for (int i = 0; i < n; ++i) {
            Gecode::channel(*this, stands.row(i), at_[i]);
            dropped_ << stands(n, i);
            if (!t.problem.scenes[static_cast<std::size_t>(i)].may_be_dropped)
                Gecode::rel(*this, dropped_[i], Gecode::IRT_EQ, 0);
        }
        Gecode::distinct(*this, at_, n);
        shoot_one_at_a_time();
    }

    /// Redundant, and what sees early that time is short.
    void shoot_one_at_a_time() {
        const PlanTables& t = *t_;
        IntVarArgs times = from_;
        times << IntVar(*this, t.end, t.end);
        IntVarArgs starts;
        IntArgs lengths;
        BoolVarArgs kept;
        for (int i = 0; i < t.scenes; ++i) {
            std::vector<std::array<int, 2>> spans{{t.end, t.end}};
            for (const PlanSlot& s : t.slots)
                if (static_cast<int>(s.scene) == i) spans.push_back({s.earliest, s.latest});
            starts << IntVar(*this, set_of(spans));
            Gecode::element(*this, times, at_[i], starts[i]);
            lengths << t.problem.scenes[static_cast<std::size_t>(i)].length;
            kept << expr(*this, !dropped_[i]);
        }
        Gecode::unary(*this, starts, lengths, kept);
    }

    static Gecode::IntSet set_of(const std::vector<std::array<int, 2>>& spans) {
        std::vector<int> flat;
        for (const auto& s : spans) {
            flat.push_back(s[0]);
            flat.push_back(s[1]);
        }
        return Gecode::IntSet{reinterpret_cast<const int(*)[2]>(flat.data()),
                              static_cast<int>(spans.size())};
    }

    /// Moves, breaks, rest and the day's length along the positions.
    void follow_times() {
        const PlanTables& t = *t_;
        const PlanLimits& limits = t.problem.limits;
        call_ = vars(t.scenes, t.first - 1440, t.end);
        stretch_ = vars(t.scenes, t.first - 1440, t.end);
        begin_day();
        for (int p = 1; p < t.scenes; ++p) {
            const IntVar way = expr(*this, place_[p - 1] * t.places + place_[p]);
            const IntVar minutes{*this, 0, *std::ranges::max_element(t.moves)};
            Gecode::element(*this, IntArgs(t.moves), way, minutes);
            const IntVar zero{*this, 0, 0};
            move_ << expr(*this, Gecode::ite(same_day_[p - 1], minutes, zero));
            const IntVar rest{*this, limits.rest, limits.rest};
            const IntVar night = expr(*this, Gecode::ite(same_day_[p - 1], zero, rest));
            Gecode::rel(*this, begin_[p] >= end_[p - 1] + move_[p - 1] + night);
            Gecode::rel(*this, call_[p] == Gecode::ite(same_day_[p - 1], call_[p - 1], begin_[p]));
            const IntVar pause{*this, 0, 1};
            const BoolVar paused = channel_bool(pause);
            Gecode::rel(*this,
                        paused >> (begin_[p] >= end_[p - 1] + move_[p - 1] + limits.break_length));
            Gecode::rel(*this, paused >> same_day_[p - 1]);
            const BoolVar anew = expr(*this, paused || !same_day_[p - 1]);
            const IntVar from = expr(*this, begin_[p] - move_[p - 1]);
            Gecode::rel(*this, stretch_[p] == Gecode::ite(anew, from, stretch_[p - 1]));
            pause_ << pause;
        }
        for (int p = 0; p < t.scenes; ++p) {
            Gecode::rel(*this, end_[p] - stretch_[p] <= limits.break_after);
            Gecode::rel(*this, end_[p] - call_[p] <= limits.longest_day);
        }
    }

    BoolVar channel_bool(const IntVar& v) {
        BoolVar out{*this, 0, 1};
        Gecode::channel(*this, out, v);
        return out;
    }

    /// The first position: a fresh day, or one that is under way.
    void begin_day() {
        const PlanTables& t = *t_;
        if (!t.problem.under_way) {
            Gecode::rel(*this, call_[0] == begin_[0]);
            Gecode::rel(*this, stretch_[0] == begin_[0]);
            return;
        }
        const PlanStart& now = *t.problem.under_way;
        const PlanLimits& limits = t.problem.limits;
        IntArgs row(t.places);
        for (int i = 0; i < t.places; ++i)
            row[i] =
                t.problem.moves[static_cast<std::size_t>(now.place)][static_cast<std::size_t>(i)];
        const IntVar way{*this, 0, *std::ranges::max_element(t.moves)};
        Gecode::element(*this, row, place_[0], way);
        const BoolVar today = expr(*this, day_[0] == 0);
        const IntVar zero{*this, 0, 0};
        first_move_ = expr(*this, Gecode::ite(today, way, zero));
        const IntVar pause{*this, 0, 1};
        const BoolVar paused = channel_bool(pause);
        Gecode::rel(*this, today >> (begin_[0] >= t.first + first_move_));
        Gecode::rel(*this, !today >> (begin_[0] >= t.first + limits.rest));
        Gecode::rel(*this, paused >> (begin_[0] >= t.first + first_move_ + limits.break_length));
        Gecode::rel(*this, paused >> today);
        const IntVar since{*this, now.work_since, now.work_since};
        Gecode::rel(*this, call_[0] == Gecode::ite(today, since, begin_[0]));
        const IntVar from = expr(*this, begin_[0] - first_move_);
        Gecode::rel(*this, stretch_[0] == Gecode::ite(expr(*this, paused || !today), from, since));
        first_pause_ = pause;
        is_under_way_ = true;
    }

    void keep_pairs() {
        const PlanTables& t = *t_;
        for (const PlanPair& pair : t.problem.order) {
            const int a = static_cast<int>(pair.first), b = static_cast<int>(pair.second);
            Gecode::rel(*this, dropped_[a] || (at_[a] < at_[b]));
        }
        IntVarArgs days = day_;
        days << IntVar(*this, t.days(), t.days());
        IntVarArgs day_at;
        for (int i = 0; i < t.scenes; ++i) {
            day_at << IntVar(*this, 0, t.days());
            Gecode::element(*this, days, at_[i], day_at[i]);
        }
        const auto together = [&](int a, int b) {
            Gecode::rel(*this, dropped_[a] || dropped_[b] || (day_at[a] == day_at[b]));
        };
        for (const PlanPair& pair : t.problem.same_day)
            together(static_cast<int>(pair.first), static_cast<int>(pair.second));
        for (int i = 0; i < t.scenes; ++i)
            for (int j = i + 1; j < t.scenes; ++j)
                if (const auto& scene = t.problem.scenes[static_cast<std::size_t>(i)];
                    scene.set_up_group && scene.stays_together &&
                    scene.set_up_group ==
                        t.problem.scenes[static_cast<std::size_t>(j)].set_up_group) {
                    together(i, j);
                    stand_together(i, j, *scene.set_up_group);
                }
    }

    /// No further apart than those of the set-up that are kept.
    void stand_together(int i, int j, int group) {
        BoolVarArgs gone;
        for (int k = 0; k < t_->scenes; ++k)
            if (t_->problem.scenes[static_cast<std::size_t>(k)].set_up_group == group)
                gone << dropped_[k];
        const IntVar apart{*this, -1, t_->scenes};
        Gecode::linear(*this, gone, Gecode::IRT_EQ, expr(*this, gone.size() - 1 - apart));
        const BoolVar both = expr(*this, !dropped_[i] && !dropped_[j]);
        Gecode::rel(*this, both >> (at_[i] - at_[j] <= apart));
        Gecode::rel(*this, both >> (at_[j] - at_[i] <= apart));
    }

    void reckon_worth() {
        const PlanTables& t = *t_;
        const int enough = t.problem.limits.enough_slack, n = t.scenes;
        const IntVar most{*this, enough, enough}, zero{*this, 0, 0};
        std::vector<int> firm;
        for (const PlanSlot& s : t.slots)
            firm.push_back(t.problem.scenes[s.scene].repeatable ? 0 : 1);
        firm.push_back(0);
        IntVarArgs all, least, of_firm, least_firm;
        for (int p = 0; p < n; ++p) {
            const BoolVar stands = expr(*this, scene_[p] != n);
            const IntVar slack = expr(*this, Gecode::min(most, latest_[p] - from_[p]));
            const IntVar is_firm{*this, 0, 1};
            Gecode::element(*this, IntArgs(firm), slot_[p], is_firm);
            const BoolVar must_hold = channel_bool(is_firm);
            all << expr(*this, Gecode::ite(stands, slack, zero));
            least << expr(*this, Gecode::ite(stands, slack, most));
            of_firm << expr(*this, Gecode::ite(must_hold, slack, zero));
            least_firm << expr(*this, Gecode::ite(must_hold, slack, most));
        }
        IntVarArgs moves = move_;
        if (is_under_way_) moves << first_move_;
        if (moves.size() == 0) moves << zero;
        const IntVar moving = expr(*this, Gecode::sum(moves));
        const IntVar gone{*this, 0, n};
        Gecode::linear(*this, dropped_, Gecode::IRT_EQ, gone);
        IntVarArgs worth;
        worth << expr(*this, n - gone) << expr(*this, Gecode::min(least_firm))
              << expr(*this, Gecode::sum(of_firm)) << expr(*this, Gecode::min(least))
              << expr(*this, -moving) << expr(*this, Gecode::sum(all));
        worth_ = IntVarArray{*this, worth};
    }

    /// Slots in the order of their time, each after its gap; then every time as early as it may be.
    void decide() {
        IntVarArgs decided;
        for (int p = 0; p < slot_.size(); ++p) {
            decided << slot_[p];
            if (p > 0) decided << pause_[p - 1];
            if (p == 0 && is_under_way_) decided << first_pause_;
        }
        decided_ = IntVarArray{*this, decided};
        Gecode::branch(*this, decided_, Gecode::INT_VAR_NONE(),
                       Gecode::INT_VAL([](const Space& home, IntVar var, int i) {
                           return static_cast<const PlanModel&>(home).first_choice(var, i);
                       }));
        Gecode::assign(*this, begin_, Gecode::INT_ASSIGN_MIN());
    }

    /// What to try first for a decision: of a gap, that it is no break; of a slot, little waiting,
    /// and what can't wait.
    int first_choice(const IntVar& var, int decision) const {
        const int p = position_of(decision);
        if (p < 0) return var.min();
        int best = var.min();
        double least = 1e9;
        for (Gecode::IntVarValues value{var}; value(); ++value) {
            const double score = urgency(*t_, taste_, begin_[p].min(), value.val(),
                                         p > 0 ? slot_[p - 1].val() : t_->empty_slot());
            if (score < least) {
                least = score;
                best = value.val();
            }
        }
        return best;
    }

    /// Which position's slot it is; -1: a gap.
    int position_of(int decision) const {
        const int first_gap = t_->problem.under_way ? 1 : 0;
        if (decision == 0) return 0;
        if (decision <= first_gap) return -1;
        return (decision - first_gap) % 2 == 1 ? (decision - first_gap + 1) / 2 : -1;
    }

    const PlanTables* t_;
    bool wants_best_;
    PlanTaste taste_;
    // By position; what a solution is read from, and what is decided:
    IntVarArray slot_, begin_, from_, worth_, decided_;
    // Used while the model is built only:
    IntVarArgs scene_, day_, length_, place_, group_, latest_, end_, call_, stretch_, move_, pause_;
    BoolVarArgs same_day_, dropped_;
    IntVarArgs at_;
    IntVar first_move_, first_pause_;
    bool is_under_way_ = false;
};

}  // namespace keyhour::study
