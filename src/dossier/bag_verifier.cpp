#include "tedge/dossier/bag_verifier.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "bag_checksum.hpp"
#include "bag_contents.hpp"
#include "bag_path.hpp"
#include "bag_tag_file.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"

namespace tedge::dossier {

namespace fs = std::filesystem;

namespace {

constexpr std::uint64_t largest_tag_file_bytes = 512ULL << 20;

const std::set<std::string> known_versions{"0.93", "0.94", "0.95", "0.96", "0.97", "1.0"};

// Problems that mean "something is not there", against "something is not as it should be".
const std::set<std::string> incompleteness{
    "bag.no-declaration", "bag.no-payload-folder",     "bag.no-manifest",  "bag.missing-file", "bag.unlisted-file",
    "bag.symbolic-link",  "bag.not-in-every-manifest", "bag.special-file", "bag.unsafe-path",  "bag.unreadable-file"};

struct Manifest {
    std::string name;                         // "manifest-sha256.txt"
    std::string algorithm;                    // "sha256"
    std::map<std::string, std::string> sums;  // checksum by the path found in the bag
    std::set<std::string> written;            // decoded paths, found or not
};

class Verification {
public:
    Verification(fs::path folder, const Progress& progress) : folder_(std::move(folder)), progress_(progress) {}

    Expected<BagReport> run() {
        contents_ = BagContents::scan(folder_, report_);
        read_declaration();
        read_manifests("manifest-", payload_manifests_);
        read_manifests("tagmanifest-", tag_manifests_);
        check_payload();
        check_tag_manifests();
        check_info();
        check_fetch();
        contents_.warn_of_twins(report_);
        if (auto checked = check_sums(); !checked) return pass_on(checked);
        conclude();
        return report_;
    }

private:
    void fault(std::string code, const std::string& path, std::string message) {
        report_.problems.push_back({std::move(code), path, std::move(message)});
    }
    void warn(std::string code, const std::string& path, std::string message) {
        report_.warnings.push_back({std::move(code), path, std::move(message)});
    }

    std::optional<std::string> text_of(const std::string& name) {
        const auto bytes = read_file(folder_ / path_from_utf8(name), largest_tag_file_bytes);
        if (!bytes) {
            fault("bag.unreadable-file", name, name + " could not be read.");
            return std::nullopt;
        }
        if (lowered_ascii(encoding_) == "utf-8" && has_utf8_mark(*bytes)) {
            const std::string message = name + " begins with a byte order mark.";
            strict_ ? fault("bag.byte-order-mark", name, message) : warn("bag.byte-order-mark", name, message);
        }
        auto text = decoded_text(*bytes, encoding_);
        if (!text) fault("bag.not-text", name, name + " is not text in the encoding that the bag declares.");
        return text;
    }

    void read_declaration() {
        if (!contents_.has("bagit.txt")) {
            fault("bag.no-declaration", "bagit.txt", "There is no bagit.txt.");
            return;
        }
        strict_ = true;  // no byte order mark here, whatever the version
        const auto text = text_of("bagit.txt");
        if (text) read_declared(*text);
        strict_ = report_.version.empty() || report_.version == "1.0";
    }

    void read_declared(const std::string& text) {
        const auto lines = lines_of(text);
        auto parsed = parse_tag_fields(text, false);
        if (!parsed.fields.empty() && parsed.fields[0].value == "1.0") parsed = parse_tag_fields(text, true);
        if (!parsed.malformed.empty() || parsed.fields.size() != 2 || lines.size() != 2 ||
            parsed.fields[0].label != "BagIt-Version" || parsed.fields[1].label != "Tag-File-Character-Encoding") {
            fault("bag.bad-declaration", "bagit.txt", "bagit.txt does not hold its two lines.");
            return;
        }
        report_.version = parsed.fields[0].value;
        if (!known_versions.contains(report_.version))
            fault("bag.unknown-version", "bagit.txt", "Version \"" + report_.version + "\" is not known.");
        if (is_known_encoding(parsed.fields[1].value)) {
            encoding_ = parsed.fields[1].value;
        } else {
            fault("bag.unknown-encoding", "bagit.txt", "The encoding " + parsed.fields[1].value + " is not known.");
        }
    }

    void read_manifests(std::string_view prefix, std::vector<Manifest>& manifests) {
        for (const auto& [path, size] : contents_.sizes()) {
            if (!path.starts_with(prefix) || !path.ends_with(".txt") || path.find('/') != std::string::npos) continue;
            Manifest manifest{path, algorithm_of(path.substr(prefix.size(), path.size() - prefix.size() - 4)), {}, {}};
            if (const auto text = text_of(path))
                for (const auto& line : lines_of(*text)) read_entry(line, manifest);
            manifests.push_back(std::move(manifest));
        }
    }

    // "SHA-256" and "sha256" are one algorithm (RFC 8493 section 2.4).
    static std::string algorithm_of(std::string_view name) {
        std::string plain = lowered_ascii(name);
        std::erase_if(plain, [](char c) { return c == '-' || c == '_'; });
        return plain;
    }

    void read_entry(const std::string& line, Manifest& manifest) {
        if (trimmed(line).empty()) return;
        const auto entry = parse_manifest_line(line);
        if (!entry) {
            fault("bag.malformed-line", manifest.name, manifest.name + " has a line that is no entry: " + line);
            return;
        }
        const std::string decoded = percent_decoded(entry->written_path);
        if (entry->star)
            warn("bag.binary-star", decoded, manifest.name + " marks " + decoded + " with a star for binary mode.");
        if (entry->dot) warn("bag.leading-dot", decoded, manifest.name + " writes ./ before " + decoded + ".");
        auto danger = danger_of(decoded);
        if (!danger) danger = danger_of(entry->written_path);
        if (danger) {
            fault("bag.unsafe-path", decoded, "The path " + decoded + " in " + manifest.name + " " + *danger + ".");
            return;
        }
        if (!manifest.written.insert(decoded).second) {
            fault("bag.listed-twice", decoded, decoded + " stands twice in " + manifest.name + ".");
            return;
        }
        place_entry(*entry, decoded, manifest);
    }

    void place_entry(const ManifestEntry& entry, const std::string& decoded, Manifest& manifest) {
        const auto found = contents_.find(entry.written_path, !strict_);
        if (!found) {
            fault("bag.missing-file", decoded, decoded + " is named in " + manifest.name + " but is not there.");
            return;
        }
        if (found->other_form)
            warn("bag.name-form", decoded, decoded + " is written in another Unicode form than the file's name.");
        const auto [at, fresh] = manifest.sums.emplace(found->path, entry.checksum);
        if (fresh) return;
        if (at->second == entry.checksum) {
            warn("bag.name-form", decoded, decoded + " stands in " + manifest.name + " in two Unicode forms.");
        } else {
            fault("bag.listed-twice", decoded, decoded + " stands in " + manifest.name + " with two checksums.");
        }
    }

    void check_payload() {
        std::error_code ignored;
        if (!fs::is_directory(fs::symlink_status(folder_ / "data", ignored)))
            fault("bag.no-payload-folder", "data", "There is no folder data.");
        if (payload_manifests_.empty()) fault("bag.no-manifest", "", "There is no payload manifest.");
        for (const auto& manifest : payload_manifests_)
            for (const auto& path : manifest.written)
                if (!is_payload_path(path))
                    fault("bag.outside-payload", path, manifest.name + " names " + path + ", which is no payload.");
        for (const auto& [path, size] : contents_.sizes())
            if (is_payload_path(path)) check_listed(path, size);
    }

    void check_listed(const std::string& path, std::uint64_t size) {
        report_.payload_files += 1;
        report_.payload_bytes += size;
        const auto lists = [&](const Manifest& manifest) { return manifest.sums.contains(path); };
        const auto times = std::ranges::count_if(payload_manifests_, lists);
        if (times == 0) {
            fault("bag.unlisted-file", path, path + " is in no manifest.");
        } else if (strict_ && times != std::ssize(payload_manifests_)) {
            fault("bag.not-in-every-manifest", path, path + " is not in every payload manifest.");
        }
    }

    void check_tag_manifests() {
        for (const auto& manifest : tag_manifests_) {
            for (const auto& path : manifest.written)
                if (path.starts_with("tagmanifest-") || is_payload_path(path))
                    fault("bag.not-for-tag-manifest", path, manifest.name + " must not name " + path + ".");
            if (!strict_) continue;
            for (const auto& payload : payload_manifests_)
                if (!manifest.written.contains(payload.name))
                    fault("bag.manifest-not-listed", payload.name,
                          manifest.name + " does not name " + payload.name + ".");
        }
    }

    void check_info() {
        for (const std::string name : {"bag-info.txt", "package-info.txt"}) {
            if (!contents_.has(name)) continue;
            const auto text = text_of(name);
            if (!text) continue;
            const auto parsed = parse_tag_fields(*text, strict_);
            for (const auto& line : parsed.malformed)
                fault("bag.malformed-line", name, name + " has a line that is no field: " + line);
            check_oxum(name, parsed.fields);
        }
    }

    void check_oxum(const std::string& name, const std::vector<TagField>& fields) {
        int count = 0;
        const std::string expected =
            std::to_string(report_.payload_bytes) + "." + std::to_string(report_.payload_files);
        for (const auto& field : fields) {
            if (lowered_ascii(field.label) != "payload-oxum") continue;
            if (++count > 1) fault("bag.malformed-line", name, "Payload-Oxum stands more than once.");
            if (field.value != expected)
                fault("bag.wrong-oxum", name,
                      "Payload-Oxum says " + field.value + ", the payload has " + expected + " (octets.files).");
        }
    }

    void check_fetch() {
        if (!contents_.has("fetch.txt")) return;
        const auto text = text_of("fetch.txt");
        if (!text) return;
        for (const auto& line : lines_of(*text)) {
            if (trimmed(line).empty()) continue;
            const auto entry = parse_fetch_line(line);
            const std::string path = entry ? percent_decoded(entry->written_path) : "";
            if (!entry) {
                fault("bag.bad-fetch", "fetch.txt", "fetch.txt has a line that is no entry: " + line);
            } else if (const auto danger = danger_of(path)) {
                fault("bag.unsafe-path", path, "The path " + path + " in fetch.txt " + *danger + ".");
            } else if (!is_payload_path(path)) {
                fault("bag.outside-payload", path, "fetch.txt names " + path + ", which is no payload.");
            } else {
                check_fetch_listed(path);
            }
        }
    }

    void check_fetch_listed(const std::string& path) {
        for (const auto& manifest : payload_manifests_)
            if (!manifest.written.contains(path))
                fault("bag.bad-fetch", path, "fetch.txt names " + path + ", which " + manifest.name + " does not.");
    }

    // Each file is read once, whatever the number of manifests that name it.
    Expected<void> check_sums() {
        std::map<std::string, std::vector<const Manifest*>> wanted;
        for (const auto* manifests : {&payload_manifests_, &tag_manifests_})
            for (const auto& manifest : *manifests) {
                if (!is_known_checksum(manifest.algorithm)) {
                    warn("bag.unknown-algorithm", manifest.name, manifest.name + " cannot be checked here.");
                    continue;
                }
                if (manifests == &payload_manifests_) report_.algorithms.push_back(manifest.algorithm);
                for (const auto& [path, sum] : manifest.sums) wanted[path].push_back(&manifest);
            }
        if (report_.algorithms.empty() && !payload_manifests_.empty())
            fault("bag.no-known-algorithm", "", "No payload manifest is of an algorithm known here.");
        std::size_t done = 0;
        for (const auto& [path, manifests] : wanted) {
            progress_.at(static_cast<double>(done++) / static_cast<double>(wanted.size()), "checking checksums");
            if (auto checked = check_file(path, manifests); !checked) return checked;
        }
        return {};
    }

    Expected<void> check_file(const std::string& path, const std::vector<const Manifest*>& manifests) {
        std::vector<std::string> algorithms;
        for (const auto* manifest : manifests) algorithms.push_back(manifest->algorithm);
        const auto sums = checksums_of_file(folder_ / path_from_utf8(path), algorithms, progress_);
        if (!sums && sums.error().code == "cancelled") return pass_on(sums);
        if (!sums) {
            fault("bag.unreadable-file", path, path + " could not be read.");
            return {};
        }
        for (const auto* manifest : manifests)
            if (manifest->sums.at(path) != sums->at(manifest->algorithm))
                fault("bag.checksum-differs", path, path + " is not what " + manifest->name + " says.");
        return {};
    }

    void conclude() {
        report_.valid = report_.problems.empty();
        report_.complete = std::ranges::none_of(
            report_.problems, [](const BagProblem& problem) { return incompleteness.contains(problem.code); });
    }

    fs::path folder_;
    Progress progress_;
    BagReport report_;
    BagContents contents_;
    std::string encoding_ = "UTF-8";
    bool strict_ = true;  // the rules of V1.0; the drafts before it were looser
    std::vector<Manifest> payload_manifests_;
    std::vector<Manifest> tag_manifests_;
};

}  // namespace

Expected<BagReport> verify_bag(const fs::path& folder, const Progress& progress) {
    std::error_code ignored;
    if (!fs::is_directory(folder, ignored))
        return fail("bag.not-a-folder", "There is no folder " + to_utf8(folder) + ".", "Name the folder of the bag.",
                    {{"path", to_utf8(folder)}});
    return Verification(folder, progress).run();
}

}  // namespace tedge::dossier
