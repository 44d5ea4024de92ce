#pragma once
// The best lines over all places: only as many are kept as are asked for.

#include <iosfwd>
#include <string>
#include <vector>

#include "batch_answer.hpp"

namespace keyhour::cli {

/// The head of the lines with a column for the rank.
[[nodiscard]] std::string ranked_csv_head(std::string plain);

class BatchRanking {
public:
    /// @param most  lines to keep
    BatchRanking(const BatchQuestion& question, std::size_t most)
        : form_{question.form}, most_{most} {}

    /// Lines that do not fit are passed over.
    void add(BatchLine line);
    /// The head with a column for the rank.
    [[nodiscard]] std::string head(std::string plain) const;
    /// Best first: longest sure hold, then longest hold, then earliest, then the order of the
    /// places.
    void print(std::ostream& out) const;

private:
    struct Ranked {
        BatchLine line;
        std::size_t number;  // in the order of the places
    };
    static bool is_better(const Ranked& a, const Ranked& b);

    BatchForm form_;
    std::size_t most_;
    std::size_t seen_ = 0;
    std::vector<Ranked> kept_;  // a heap, the worst on top
};

}  // namespace keyhour::cli
