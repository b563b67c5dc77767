// SPDX-License-Identifier: GPL-3.0-or-later
// The Office: questions down the left side, in words; at the right the answer as one sentence,
// then the picture, then the valves behind it. A click in the picture asks about that alone; a row
// opens the valve's visits, and from there its whole life or a repair request.
#pragma once

#include "core/common/ids.h"

#include <QWidget>

#include <memory>

namespace keyround {

class Session;

class OfficePlace final : public QWidget
{
    Q_OBJECT
public:
    explicit OfficePlace(Session &session, QWidget *parent = nullptr);
    ~OfficePlace() override;

    /// One valve's whole life on one page.
    void showLife(const ValveId &valve, const VisitId &visit);

Q_SIGNALS:
    /// Somebody wants to see or write the repair request of a valve; the visit that shows why.
    void repairAsked(const ValveId &valve, const VisitId &visit);

protected:
    void showEvent(QShowEvent *event) override;

private:
    [[nodiscard]] QWidget *buildQuestions();
    [[nodiscard]] QWidget *buildAnswer();
    [[nodiscard]] QWidget *buildWish();
    void listen();
    void markStale();
    void ask(); ///< another question, picture or filter: nothing is chosen any more
    void refresh();
    void previewBoardReport();

    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
