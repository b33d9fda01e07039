// Taking photographs in on a thread of its own, with a casebook object of its own.
#pragma once

#include <QObject>
#include <QString>
#include <filesystem>
#include <stop_token>
#include <thread>
#include <vector>

#include "book_session.hpp"
#include "tedge/usecases/photographs.hpp"

namespace tedge::desk {

class Intake : public QObject {
    Q_OBJECT

public:
    explicit Intake(QObject* parent = nullptr) : QObject(parent) {}
    void begin(const BookSession::Opened& how, std::vector<usecases::NewPhotograph> wanted);
    void cancel() { worker_.request_stop(); }
    [[nodiscard]] bool running() const { return running_; }

signals:
    void progress(int done, int of, const QString& what);
    void taken(int index, const tedge::usecases::TakenPhotograph& photograph);
    void refused(int index, const tedge::Error& error);
    void finished(bool cancelled);

private:
    void work(const std::stop_token& stop, const BookSession::Opened& how,
              const std::vector<usecases::NewPhotograph>& wanted);
    std::jthread worker_;
    bool running_ = false;
};

// Face, light and stage guessed from a file name: "kestrel_verso_raking.tif".
[[nodiscard]] usecases::NewPhotograph guess_from_name(const std::filesystem::path& file);

}  // namespace tedge::desk
