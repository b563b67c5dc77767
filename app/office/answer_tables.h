// SPDX-License-Identifier: GPL-3.0-or-later
// The tables of valves behind the answers: one for each question, made when it is first asked, so
// that each keeps the columns as somebody arranged them.
#pragma once

#include "app/office/answers.h"

#include <QStackedWidget>

#include <array>

namespace keyround {

class AnswerModel;
class DataTable;

class AnswerTables final : public QStackedWidget
{
    Q_OBJECT
public:
    using QStackedWidget::QStackedWidget;

    void show(Question question, Answer &&answer);
    [[nodiscard]] DataTable *table(Question question);
    /// Selects the row alone and opens it, when the answer has come down to one valve.
    void openOnlyRow(Question question);

    bool eventFilter(QObject *watched, QEvent *event) override;

Q_SIGNALS:
    void rowOpened(const ValveId &valve, const VisitId &visit);

private:
    struct Entry
    {
        DataTable *table = nullptr;
        AnswerModel *model = nullptr;
    };
    Entry &entry(Question question);
    /// Short columns take what they need, long words the rest.
    void fitColumns(Question question);

    std::array<Entry, questionCount> m_entries;
};

} // namespace keyround
