#include "tedge/dossier/bag_writer.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "bag_path.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/base/uuid.hpp"

namespace tedge::dossier {

namespace fs = std::filesystem;

namespace {

struct Algorithm {
    HashAlgorithm hash;
    std::string_view name;
};
constexpr std::array<Algorithm, 2> algorithms{Algorithm{HashAlgorithm::sha256, "sha256"},
                                              Algorithm{HashAlgorithm::sha512, "sha512"}};

using Checksums = std::array<std::string, algorithms.size()>;
using Inventory = std::map<std::string, Checksums>;  // by path in the bag

Checksums checksums_of(std::string_view bytes) {
    Checksums sums;
    for (std::size_t i = 0; i < algorithms.size(); ++i) {
        Hasher hasher(algorithms[i].hash);
        hasher.update(bytes);
        sums[i] = hasher.finish_hex();
    }
    return sums;
}

std::string manifest_text(const Inventory& inventory, std::size_t algorithm) {
    std::string text;
    for (const auto& [path, sums] : inventory) text += sums[algorithm] + "  " + percent_encoded(path) + "\n";
    return text;
}

std::string manifest_name(std::string_view prefix, std::size_t algorithm) {
    return std::string(prefix) + std::string(algorithms[algorithm].name) + ".txt";
}

Expected<void> check_label(const std::string& label) {
    if (label.empty() || label.find_first_of(":\r\n") != std::string::npos)
        return fail("bag.bad-label", "\"" + label + "\" cannot be a label of bag-info.txt.",
                    "Use a word without a colon or a line end.", {{"label", label}});
    const std::string lower = lowered_ascii(label);
    if (lower == "payload-oxum" || lower == "bagging-date")
        return fail("bag.reserved-label", label + " is written by the bag itself.", "Leave it out.",
                    {{"label", label}});
    return {};
}

std::string on_one_line(std::string_view value) {
    std::string line(trimmed(value));
    std::replace(line.begin(), line.end(), '\n', ' ');
    std::replace(line.begin(), line.end(), '\r', ' ');
    return line;
}

std::string date_of(Instant now) {
    return to_text(now).substr(0, 10);
}

fs::path hidden_neighbour(const fs::path& target) {
    std::array<std::uint8_t, 6> random{};
    fill_random(random.data(), random.size());
    return target.parent_path() / path_from_utf8("." + to_utf8(target.filename()) + ".unfinished-" + to_hex(random));
}

std::unexpected<Error> already_there(const fs::path& target) {
    return fail("bag.exists", "Something already lies at " + to_utf8(target) + ".", "Choose another folder.",
                {{"path", to_utf8(target)}});
}

}  // namespace

struct BagWriter::State {
    fs::path target;
    fs::path folder;  // hidden, beside the target
    Inventory payload;
    std::set<std::string> folded;
    std::uint64_t payload_bytes = 0;

    ~State() {
        std::error_code ignored;
        if (!folder.empty()) fs::remove_all(folder, ignored);
    }

    Expected<void> write_tag(Inventory& tags, const std::string& name, const std::string& text) const {
        tags[name] = checksums_of(text);
        return write_file_durably(folder / name, text);
    }
};

BagWriter::BagWriter(std::unique_ptr<State> state) : state_(std::move(state)) {}
BagWriter::~BagWriter() = default;
BagWriter::BagWriter(BagWriter&&) noexcept = default;
BagWriter& BagWriter::operator=(BagWriter&&) noexcept = default;

Expected<BagWriter> BagWriter::begin(const fs::path& target) {
    std::error_code ignored;
    const fs::path absolute = fs::absolute(target, ignored).lexically_normal();
    // "out/bag/" names the same folder as "out/bag".
    const fs::path plain = absolute.has_filename() ? absolute : absolute.parent_path();
    if (fs::symlink_status(plain, ignored).type() != fs::file_type::not_found) return already_there(plain);
    auto state = std::make_unique<State>();
    state->target = plain;
    state->folder = hidden_neighbour(plain);
    if (auto made = make_folder_durably(state->folder / "data"); !made) return pass_on(made);
    return BagWriter(std::move(state));
}

Expected<void> BagWriter::add(std::string_view path, std::string_view bytes) {
    const std::string in_bag = "data/" + std::string(path);
    auto danger = danger_of(path);
    if (!danger && !is_valid_utf8(path)) danger = "is not UTF-8";
    if (!danger && (path.back() == '/' || path.find("//") != std::string_view::npos)) danger = "has an empty part";
    if (danger)
        return fail("bag.unsafe-path", "The path \"" + std::string(path) + "\" " + *danger + ".",
                    "Give the file a plain name below the bag's folder.", {{"path", std::string(path)}});
    if (!state_->folded.insert(folded_form(in_bag)).second)
        return fail("bag.duplicate-path", "The bag already holds " + std::string(path) + ".",
                    "Give each file a name of its own.", {{"path", std::string(path)}});
    const fs::path file = state_->folder / path_from_utf8(in_bag);
    if (auto made = make_folder_durably(file.parent_path()); !made) return made;
    if (auto written = write_file_durably(file, bytes); !written) return written;
    state_->payload[in_bag] = checksums_of(bytes);
    state_->payload_bytes += bytes.size();
    return {};
}

Expected<void> BagWriter::add_copy(std::string_view path, const fs::path& from) {
    auto bytes = read_file(from);
    if (!bytes) return pass_on(bytes);
    return add(path, *bytes);
}

Expected<void> BagWriter::finish(const std::vector<BagInfoField>& info, Instant now) {
    std::string info_text;
    for (const auto& field : info) {
        if (auto good = check_label(field.label); !good) return good;
        info_text += field.label + ": " + on_one_line(field.value) + "\n";
    }
    info_text += "Bagging-Date: " + date_of(now) + "\n";
    info_text +=
        "Payload-Oxum: " + std::to_string(state_->payload_bytes) + "." + std::to_string(state_->payload.size()) + "\n";

    std::vector<std::pair<std::string, std::string>> files{
        {"bagit.txt", "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"}, {"bag-info.txt", info_text}};
    for (std::size_t i = 0; i < algorithms.size(); ++i)
        files.emplace_back(manifest_name("manifest-", i), manifest_text(state_->payload, i));
    Inventory tags;
    for (const auto& [name, text] : files)
        if (auto written = state_->write_tag(tags, name, text); !written) return written;
    for (std::size_t i = 0; i < algorithms.size(); ++i) {
        const auto file = state_->folder / manifest_name("tagmanifest-", i);
        if (auto written = write_file_durably(file, manifest_text(tags, i)); !written) return written;
    }

    std::error_code failure;
    if (fs::symlink_status(state_->target, failure).type() != fs::file_type::not_found)
        return already_there(state_->target);
    fs::rename(state_->folder, state_->target, failure);
    if (failure)
        return fail("files.unwritable", "The bag could not be moved to " + to_utf8(state_->target) + ".",
                    "Check that the folder above it can be written.", {{"path", to_utf8(state_->target)}});
    state_->folder.clear();
    return sync_folder(state_->target.parent_path());
}

}  // namespace tedge::dossier
