// Taking photographs in on a thread of its own, with a casebook object of its own.
#pragma once

#include <filesystem>
#include <vector>

#include "long_work.hpp"
#include "tedge/usecases/say_photographs.hpp"

namespace tedge::desk {

class Intake : public QObject {
    Q_OBJECT

public:
    explicit Intake(QObject* parent = nullptr);
    // Photographer and licence of those that have none: by their files, else the usual ones.
    void begin(const BookSession::Opened& how, std::vector<usecases::NewPhotograph> wanted,
               const usecases::UsualRights& usual = {});
    void cancel() { work_.cancel(); }
    [[nodiscard]] bool running() const { return work_.running(); }

signals:
    void progress(int done, int of, const QString& what);
    void taken(int index, const tedge::usecases::TakenPhotograph& photograph);
    // What is wrong with one file does not stop the others.
    void refused(int index, const tedge::Error& error);
    void finished(bool cancelled);

private:
    void work(const BookSession::Opened& how, const std::vector<usecases::NewPhotograph>& wanted,
              const usecases::UsualRights& usual, const Progress& progress);
    LongWork work_;
};

// The files themselves, and the pictures in folders among them (take_in_folder.hpp), in order.
[[nodiscard]] std::vector<std::filesystem::path> files_of(const std::vector<std::filesystem::path>& dropped);

}  // namespace tedge::desk
