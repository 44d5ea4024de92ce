#include "batch_ranking.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

namespace keyhour::cli {
namespace {

/// The rank as the last member or column of each of the line's records.
std::string with_rank(const std::string& text, std::size_t rank, BatchForm form) {
    if (form == BatchForm::json)
        return fmt::format("{},\"rank\":{}}}\n", text.substr(0, text.rfind('}')), rank);
    if (form == BatchForm::table) return text;
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find("\r\n", at);  // names hold no line ends
        out += fmt::format("{},{}\r\n", text.substr(at, end - at), rank);
        at = end + 2;
    }
    return out;
}

}  // namespace

std::string ranked_csv_head(std::string plain) {
    return plain.insert(plain.rfind("\r\n"), ",rank");
}

bool BatchRanking::is_better(const Ranked& a, const Ranked& b) {
    if (a.line.sure != b.line.sure) return a.line.sure > b.line.sure;
    if (a.line.hold != b.line.hold) return a.line.hold > b.line.hold;
    if (a.line.start != b.line.start) return a.line.start < b.line.start;
    return a.number < b.number;
}

void BatchRanking::add(BatchLine line) {
    if (!line.fits || most_ == 0) return;
    kept_.push_back({std::move(line), seen_++});
    std::push_heap(kept_.begin(), kept_.end(), is_better);
    if (kept_.size() <= most_) return;
    std::pop_heap(kept_.begin(), kept_.end(), is_better);
    kept_.pop_back();
}

std::string BatchRanking::head(std::string plain) const {
    return form_ == BatchForm::csv ? ranked_csv_head(std::move(plain)) : plain;
}

void BatchRanking::print(std::ostream& out) const {
    std::vector<const Ranked*> sorted;
    for (const Ranked& ranked : kept_)
        sorted.push_back(&ranked);
    std::sort(sorted.begin(), sorted.end(),
              [](const Ranked* a, const Ranked* b) { return is_better(*a, *b); });
    for (std::size_t i = 0; i < sorted.size(); ++i)
        out << with_rank(sorted[i]->line.text, i + 1, form_);
    if (form_ == BatchForm::table && sorted.empty()) out << "none fits\n";
}

}  // namespace keyhour::cli
