#include "photographs/intake.hpp"

#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

// The longest word of the list that stands in the name, written with hyphens, underscores, blanks or nothing between.
std::string word_in_name(std::string_view field, const std::string& name, std::string_view otherwise) {
    std::string best(otherwise);
    std::size_t best_length = 0;
    for (const std::string_view word : words_of(*casebook::find_kind("photograph")->field(field))) {
        for (const std::string_view joint : {"-", "_", " ", ""}) {
            std::string looked_for;
            for (const char c : word) looked_for += c == '-' ? std::string(joint) : std::string(1, c);
            if (looked_for.size() <= best_length || name.find(looked_for) == std::string::npos) continue;
            best = word;
            best_length = looked_for.size();
        }
    }
    return best;
}

}  // namespace

usecases::NewPhotograph guess_from_name(const std::filesystem::path& file) {
    const std::string name = lowered_ascii(to_utf8(file.stem()));
    usecases::NewPhotograph guess;
    guess.file = file;
    const bool from_behind = name.find("back") != std::string::npos && name.find("frame") == std::string::npos;
    guess.face = parse_face(word_in_name("face", name, from_behind ? "verso" : "recto")).value_or(Face::recto);
    guess.light = word_in_name("light", name, name.find("uv") != std::string::npos ? "ultraviolet" : "normal");
    guess.stage = word_in_name("stage", name, "as-received");
    return guess;
}

void Intake::begin(const BookSession::Opened& how, std::vector<usecases::NewPhotograph> wanted) {
    running_ = true;
    worker_ =
        std::jthread([this, how, wanted = std::move(wanted)](const std::stop_token& stop) { work(stop, how, wanted); });
}

void Intake::work(const std::stop_token& stop, const BookSession::Opened& how,
                  const std::vector<usecases::NewPhotograph>& wanted) {
    const auto tell = [this](auto act) { QMetaObject::invokeMethod(this, act); };
    const auto end = [&](bool was_cancelled) {
        tell([this, was_cancelled] {
            running_ = false;
            emit finished(was_cancelled);
        });
    };
    auto book = casebook::Casebook::open(how.folder, {how.clock, how.ids});
    const auto author = book ? book->person_named(how.author) : Expected<Uuid>(pass_on(book));
    const int count = static_cast<int>(wanted.size());
    for (int i = 0; i < count && !stop.stop_requested(); ++i) {
        const auto& photograph = wanted[static_cast<std::size_t>(i)];
        const QString name = shown(to_utf8(photograph.file.filename()));
        tell([this, i, count, name] { emit progress(i, count, name); });
        auto taken = author ? usecases::take_in_photograph({*book, *author, *how.clock}, photograph, Progress(stop, {}))
                            : Expected<usecases::TakenPhotograph>(pass_on(author));
        if (taken) {
            tell([this, i, t = *taken] { emit this->taken(i, t); });
        } else if (taken.error().code != "cancelled") {
            tell([this, i, e = taken.error()] { emit refused(i, e); });
        }
    }
    end(stop.stop_requested());
}

}  // namespace tedge::desk
