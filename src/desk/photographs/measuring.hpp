// Measuring photographs one after another off the window's thread. What one of them refuses does not stop the others.
#pragma once

#include <functional>
#include <vector>

#include "long_work.hpp"

namespace tedge::desk {

struct Measured {
    std::vector<usecases::Done> done;
    QString told;  // what it says beside the figures on record; "" for nothing
};
// Of one photograph, by a casebook of the worker's own.
using MeasureOne =
    std::function<Expected<Measured>(const usecases::Acting&, const Uuid& photograph, const Progress& progress)>;

class Measuring : public QObject {
    Q_OBJECT

public:
    explicit Measuring(QObject* parent = nullptr);
    // Nothing happens while others are being measured.
    void begin(const BookSession::Opened& how, std::vector<Uuid> photographs, MeasureOne measure);
    void cancel() { work_.cancel(); }
    [[nodiscard]] bool running() const { return work_.running(); }

signals:
    void begun(int index, int of, const tedge::Uuid& photograph);
    void progress(double fraction, const QString& what);  // over all of them
    void measured(const tedge::Uuid& photograph, const tedge::desk::Measured& measured);
    void refused(const tedge::Uuid& photograph, const tedge::Error& error);
    void finished(bool was_cancelled);

private:
    void work(const BookSession::Opened& how, const std::vector<Uuid>& photographs, const MeasureOne& measure,
              const Progress& progress);
    LongWork work_;
};

}  // namespace tedge::desk
