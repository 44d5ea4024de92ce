#include "schema_check.hpp"

#include <fstream>
#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

std::string schema_faults(const std::string& name, const std::string& document) {
    const std::string path = std::string{KEYHOUR_TEST_DATA} + "/schema/" + name + ".schema.json";
    std::ifstream in{path};
    const auto schema_json = nlohmann::json::parse(in, nullptr, false);
    if (schema_json.is_discarded()) return path + " is no JSON";
    const auto json = nlohmann::json::parse(document, nullptr, false);
    if (json.is_discarded()) return "the answer is no JSON: " + document.substr(0, 200);

    valijson::Schema schema;
    const valijson::adapters::NlohmannJsonAdapter schema_adapter{schema_json};
    valijson::SchemaParser{}.populateSchema(schema_adapter, schema);
    const valijson::adapters::NlohmannJsonAdapter target{json};
    valijson::ValidationResults results;
    valijson::Validator validator;
    std::string faults;
    if (!validator.validate(schema, target, &results)) {
        valijson::ValidationResults::Error error;
        while (results.popError(error)) {
            for (const std::string& step : error.context)
                faults += step;
            faults += ": " + error.description + '\n';
        }
        if (faults.empty()) faults = "the schema refuses the document";
    }
    return faults;
}
