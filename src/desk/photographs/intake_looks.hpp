// Looks at files that wait to be taken in, off the GUI thread: what is in sight first, then the rest.
#pragma once

#include <QImage>
#include <QObject>
#include <QThreadPool>
#include <deque>
#include <filesystem>
#include <optional>
#include <set>
#include <stop_token>
#include <string>

#include "tedge/imaging/picture_character.hpp"

namespace tedge::desk {

struct IntakeLook {
    std::filesystem::path file;
    std::optional<imaging::PictureCharacter> character;
    std::string taken_at;
    QImage small;  // null where the file cannot be read: taking it in says why
};

class IntakeLooks : public QObject {
    Q_OBJECT

public:
    explicit IntakeLooks(QObject* parent = nullptr);
    ~IntakeLooks() override;

    enum class When { soon, later };
    // Once for each file; asked for again, it is only looked at sooner.
    void ask_for(const std::filesystem::path& file, When when);
    // Files that nobody waits for any more.
    void forget();
    [[nodiscard]] bool busy() const { return is_looking_ || !waiting_.empty(); }

signals:
    void arrived(const tedge::desk::IntakeLook& look);

private:
    void begin_next();
    std::set<std::filesystem::path> asked_;
    std::deque<std::filesystem::path> waiting_;
    bool is_looking_ = false;
    QThreadPool pool_;
    std::stop_source stop_;
};

}  // namespace tedge::desk
