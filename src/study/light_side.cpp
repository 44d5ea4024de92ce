#include "keyhour/study/light_side.hpp"

namespace keyhour::study {

std::string light_side_in_words(bool from_right) {
    return from_right ? "light from the subject's right" : "light from the subject's left";
}

}  // namespace keyhour::study
