#pragma once
/// @file
/// The band in which a patch's edge lies, when every input may be off.

#include <memory>
#include <optional>
#include <vector>

#include "keyhour/study/key_doubt.hpp"
#include "keyhour/study/patch_day.hpp"

namespace keyhour::study {

/// Fewer members than a key's: a band is told to a centimetre or two.
inline constexpr EnsembleSettings patch_ensemble{32, 1, whole_doubt};

/// The members' rooms, prepared once for every instant.
class PatchEnsemble {
public:
    /// @pre the study outlives this
    explicit PatchEnsemble(const RoomStudy& study,
                           const EnsembleSettings& ensemble = patch_ensemble);
    PatchEnsemble(PatchEnsemble&&) noexcept;
    PatchEnsemble(const PatchEnsemble&) = delete;
    PatchEnsemble& operator=(const PatchEnsemble&) = delete;
    ~PatchEnsemble();

    /// For each patch of the instant: in 90 % of the members no corner of the patch lies farther
    /// than so many metres from where the stated room has its outline, nor the other way round.
    /// Glazing bars are left aside: they move with their window. Nothing where the surface is not
    /// lit at all in more than a tenth of the members.
    /// @pre the study's track covers the instant and the clock's doubt around it
    [[nodiscard]] std::vector<std::optional<double>> edge_bands_m(
        const PatchInstant& instant) const;

private:
    class Member;
    std::vector<std::unique_ptr<const Member>> members_;
    std::unique_ptr<const Member> stated_;  ///< without its bars
};

}  // namespace keyhour::study
