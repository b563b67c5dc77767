// SPDX-License-Identifier: GPL-3.0-or-later
// Sending requests and taking answers back: the part of RepairsPlace (repairs_place.h) that deals
// with files.
#include "app/commands/answer_commands.h"
#include "app/commands/repair_commands.h"
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/paper_preview.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/models/data_table.h"
#include "app/print/repair_files.h"
#include "app/print/repair_pages.h"
#include "app/repairs/repair_models.h"
#include "app/repairs/repairs_place.h"
#include "app/repairs/request_card.h"

#include <QFileInfo>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QTabWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace keyround {

QWidget *RepairsPlace::buildSendBar()
{
    auto *bar = new QWidget(this);
    m_sendWords = plainCaption({}, {}, bar);
    m_sendWords->setObjectName(QStringLiteral("sendWords"));
    m_to = new QLineEdit(bar);
    m_to->setObjectName(QStringLiteral("sendTo"));
    m_to->setAccessibleName(tr("Whom the requests go to"));
    m_to->setPlaceholderText(tr("whom they go to"));
    auto *row = new QHBoxLayout(bar);
    row->setContentsMargins(0, 4, 0, 0);
    row->addWidget(m_sendWords);
    row->addWidget(m_to, 1);
    struct SendWay
    {
        QString words;
        const char *name;
        const char *ending;
    };
    const std::array ways{
        SendWay{tr("Sheets (PDF)"), "sendPdf", "pdf"}, SendWay{tr("Table (CSV)"), "sendCsv", "csv"},
        SendWay{tr("Spreadsheet"), "sendXlsx", "xlsx"}, SendWay{tr("JSON"), "sendJson", "json"}};
    for (const SendWay &way : ways) {
        auto *button = new QPushButton(way.words, bar);
        button->setObjectName(QLatin1String(way.name));
        button->setProperty("role", QStringLiteral("small"));
        const QString ending = QLatin1String(way.ending);
        connect(button, &QPushButton::clicked, this, [this, ending] { send(ending); });
        row->addWidget(button);
    }
    auto *look = new QPushButton(tr("Look at the sheets"), bar);
    look->setObjectName(QStringLiteral("sendPreview"));
    look->setProperty("role", QStringLiteral("small"));
    connect(look, &QPushButton::clicked, this, &RepairsPlace::preview);
    row->addWidget(look);
    return bar;
}

std::vector<RequestId> RepairsPlace::toSend() const
{
    const QList<int> chosen = m_backlogTable->selectedRows();
    std::vector<RequestId> requests;
    for (const int row : chosen.isEmpty() ? m_backlogTable->shownRows() : chosen) {
        const RequestId id = m_backlog->requestAt(row);
        const RepairRequest *request = m_session.repairs().request(id);
        if (request != nullptr && request->isOpen() &&
            (!chosen.isEmpty() || request->state == RepairState::Open)) {
            requests.push_back(id);
        }
    }
    return requests;
}

void RepairsPlace::refreshSend()
{
    const bool isChosen = !m_backlogTable->selectedRows().isEmpty();
    const std::vector<RequestId> requests = toSend();
    m_sendWords->setText(isChosen ? tr("Send the chosen (%1) to").arg(requests.size())
                                  : tr("Send what was not sent yet (%1) to").arg(requests.size()));
    if (!m_to->isModified()) {
        // Whom the department's table names, where all of them go to one.
        QSet<QString> named;
        for (const RequestId &id : requests) {
            const RepairRequest *request = m_session.repairs().request(id);
            const RepairDepartment *department =
                m_session.settings().repairs.department(request->department);
            named.insert(department == nullptr ? QString() : department->sendTo);
        }
        m_to->setText(named.size() == 1 ? *named.begin() : QString());
    }
}

void RepairsPlace::send(const QString &ending)
{
    const std::vector<RequestId> requests = toSend();
    const bool named = !m_to->text().trimmed().isEmpty();
    restyle(m_to, "refused", !named);
    if (!named) {
        m_to->setFocus();
        Q_EMIT m_session.notifier().said(
            tr("Say whom the requests go to: a name, a desk, an address."));
        return;
    }
    const QString path =
        chooseFileToSave(this, tr("Save the requests"), QStringLiteral("repairs.%1").arg(ending),
                         QStringLiteral("%1 (*.%2)").arg(ending.toUpper(), ending));
    if (!path.isEmpty()) {
        showOutcome(
            this, sendRepairs(m_session, requests, m_to->text(), path),
            tr("Written to %1, and written down as sent (%2)").arg(path).arg(requests.size()));
    }
}

void RepairsPlace::preview()
{
    std::vector<RequestId> requests = toSend();
    PreviewJob job;
    job.title = tr("Repair requests");
    job.suggestedName = QStringLiteral("repairs.pdf");
    job.options = repairPaperOptions();
    job.make = [this, requests = std::move(requests)](const std::vector<int> &) {
        std::vector<BacklogRow> rows = backlogOf(m_session);
        std::erase_if(rows, [&requests](const BacklogRow &row) {
            return std::ranges::find(requests, row.request->id) == requests.end();
        });
        return repairPaper(m_session, rows);
    };
    PaperPreview::openBeside(this, m_session, std::move(job));
}

QWidget *RepairsPlace::buildAnswers()
{
    m_answerTable->setObjectName(QStringLiteral("repairsAnswers"));
    m_answerTable->setModel(m_answers);
    m_answerTable->setDefaultWidths({50, 140, 165, 330, 110, 240});
    m_answerTable->setEmptyText(
        tr("Take a department's answers back from the table that it was sent (CSV, XLSX, ODS), or "
           "from its own with the columns number, answer, date, by and work. What would be "
           "written stands here first."));
    auto *choose = new QPushButton(tr("Read a file of answers..."), this);
    choose->setObjectName(QStringLiteral("answersRead"));
    connect(choose, &QPushButton::clicked, this, &RepairsPlace::readAnswers);
    m_dates = new CalmComboBox(this);
    m_dates->setObjectName(QStringLiteral("answersDates"));
    m_dates->setAccessibleName(tr("How dates are written in the file"));
    m_dates->addItems({tr("Dates as they show themselves"), tr("3/4/2026 is 4 March"),
                       tr("3/4/2026 is 3 April")});
    connect(m_dates, &QComboBox::currentIndexChanged, this, &RepairsPlace::lookAtAnswers);
    m_answerWords = plainLabel({}, {}, this);
    m_answerWords->setObjectName(QStringLiteral("answersWords"));
    m_takeAnswers = new QPushButton(tr("Write them down"), this);
    m_takeAnswers->setObjectName(QStringLiteral("answersTake"));
    m_takeAnswers->setProperty("role", QStringLiteral("primary"));
    m_takeAnswers->setEnabled(false);
    connect(m_takeAnswers, &QPushButton::clicked, this, &RepairsPlace::takeAnswers);
    auto *page = new QWidget(this);
    auto *top = new QHBoxLayout;
    top->addWidget(choose);
    top->addWidget(m_dates);
    top->addWidget(m_answerWords, 1);
    auto *column = new QVBoxLayout(page);
    column->setContentsMargins(0, 6, 0, 0);
    column->addLayout(top);
    column->addWidget(m_answerTable, 1);
    column->addWidget(m_takeAnswers, 0, Qt::AlignRight);
    return page;
}

void RepairsPlace::readAnswers()
{
    const QString path = chooseFileToOpen(this, tr("Read answers"),
                                          tr("Tables (*.csv *.xlsx *.ods);;All files (*)"));
    if (!path.isEmpty()) {
        m_answerFile = path;
        lookAtAnswers();
    }
}

void RepairsPlace::lookAtAnswers()
{
    m_plan = {};
    m_takeAnswers->setEnabled(false);
    if (m_answerFile.isEmpty()) {
        return;
    }
    std::optional<DateOrder> dates;
    if (m_dates->currentIndex() > 0) {
        dates = m_dates->currentIndex() == 1 ? DateOrder::MonthFirst : DateOrder::DayFirst;
    }
    auto plan = prepareAnswers(m_session, m_answerFile, dates);
    restyle(m_answerWords, "role", plan ? QString() : QStringLiteral("refusal"));
    if (!plan) {
        m_answers->setRows({});
        m_answerWords->setText(plan.error().message);
        return;
    }
    m_plan = std::move(*plan);
    m_answers->setRows(answerRows(m_plan));
    m_answerWords->setText(tr("%1: %2").arg(m_plan.source, wordsFor(m_plan)));
    m_takeAnswers->setEnabled(m_plan.taken > 0);
    m_takeAnswers->setText(tr("Write them down (%1)").arg(m_plan.taken));
}

void RepairsPlace::takeAnswers()
{
    const AnswerPlan plan = m_plan;
    showOutcome(this, applyAnswers(m_session, plan),
                tr("From %1: %2").arg(plan.source, wordsFor(plan)));
}

} // namespace keyround
