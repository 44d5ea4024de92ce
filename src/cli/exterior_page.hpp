#pragma once
// The answers of `exterior` on a page of 80 columns.

#include <iosfwd>
#include <vector>

#include "keyhour/study/facade_light.hpp"
#include "keyhour/study/spot_doubt.hpp"
#include "keyhour/study/spot_lamps.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::cli {

/// What facades throw back over many dates: memory does not grow with them.
class FacadeDates {
public:
    struct Run {
        std::size_t building = 0, window = 0;
        room::Facade::Kind kind = room::Facade::Kind::glass;
        site::LocalDate first, last;
        std::size_t dates = 0, dates_on_a_mark = 0;
        study::Span longest;
    };
    void add(site::LocalDate date, const study::FacadeLight& light);
    [[nodiscard]] const std::vector<Run>& runs() const noexcept { return runs_; }

private:
    std::vector<Run> runs_;
};

class ExteriorPage {
public:
    ExteriorPage(std::ostream& out, const site::Zone& zone, const study::SpotSettings& settings)
        : out_{out}, zone_{zone}, settings_{settings} {}

    void date(site::LocalDate date) const;
    /// @param ends  one for each span of direct light, or none at all
    void spot(const study::SpotLight& light, const study::SpotDay& day,
              const std::vector<study::SpotEnsemble::Ends>& ends,
              const std::vector<study::SpotInstant>& rows) const;
    /// Street and yard lamps at the spot. @param sky_below  from when the sky gives less than they
    void lamps(const std::vector<study::LampAtSpot>& lamps, const std::optional<Instant>& sky_below,
               const site::Location& location) const;
    void thrown_back(const std::vector<study::FacadeLight>& facades,
                     const study::RoomStudy& room) const;

    void thrown_back(const FacadeDates& facades, const room::Room& room) const;

    void range_head() const;
    void range_row(const study::SpotLight& light, const study::SpotDay& day) const;

    void cautions(bool is_range) const;

private:
    void line(const std::string& text) const;
    void answer(const study::SpotLight& light, const study::SpotDay& day) const;
    void direct(const study::SpotDay& day,
                const std::vector<study::SpotEnsemble::Ends>& ends) const;
    void line_of_ends(const study::SpotEnsemble::Ends& ends) const;
    void start(const char* before, const std::vector<study::SafeStart>& starts) const;
    void facade(const study::SpotLight& light, const study::SpotDay& day) const;
    void evening(const study::SpotDay& day) const;
    void moon(const study::SpotDay& day) const;
    void rows(const study::SpotLight& light, const std::vector<study::SpotInstant>& rows) const;
    [[nodiscard]] std::string clock(Instant t) const;
    [[nodiscard]] std::string promised(const study::Span& span) const;

    std::ostream& out_;
    const site::Zone& zone_;
    const study::SpotSettings& settings_;
};

}  // namespace keyhour::cli
