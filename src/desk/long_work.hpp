// One piece of long work at a time, on a thread of its own: how far it is, what it does, and a stop that stops.
#pragma once

#include <QObject>
#include <QString>
#include <functional>
#include <thread>

#include "book_session.hpp"
#include "tedge/base/progress.hpp"

namespace tedge::desk {

class LongWork : public QObject {
    Q_OBJECT

public:
    // Runs on the worker. What it has to say to the window it says through tell().
    using Act = std::function<void(const Progress& progress)>;

    explicit LongWork(QObject* parent = nullptr) : QObject(parent) {}
    ~LongWork() override;

    // Nothing happens while other work is running.
    void begin(Act act);
    void cancel() { worker_.request_stop(); }
    [[nodiscard]] bool running() const { return running_; }

    // From the worker: `act` is carried out by the thread of the window, unless this object is gone by then.
    template <class Told>
    void tell(Told act) {
        QMetaObject::invokeMethod(this, std::move(act));
    }

signals:
    void progress(double fraction, const QString& what);
    void finished(bool was_cancelled);

private:
    [[nodiscard]] Progress::Report reporter();
    bool running_ = false;
    std::jthread worker_;
};

// A casebook of the worker's own, for a Casebook belongs to one thread.
struct WorkersBook {
    casebook::Casebook book;
    Uuid author;  // nil in a book that is only read
};
[[nodiscard]] Expected<WorkersBook> open_for_worker(const BookSession::Opened& how);

}  // namespace tedge::desk
