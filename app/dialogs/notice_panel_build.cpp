// SPDX-License-Identifier: GPL-3.0-or-later
// What the notices' window is made of; what it does stands in notice_panel.cpp.
#include "app/dialogs/checked_line.h"
#include "app/dialogs/notice_panel.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"
#include "core/inventory/value_parsers.h"

#include <QFormLayout>
#include <QHeaderView>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QTableWidget>
#include <QVBoxLayout>

#include <utility>

namespace keyround {

namespace {

void shape(QTableWidget *table, const QStringList &headings, const QString &name)
{
    table->setColumnCount(static_cast<int>(headings.size()));
    table->setAccessibleName(name);
    table->setHorizontalHeaderLabels(headings);
    table->setSelectionBehavior(QAbstractItemView::SelectRows);
    table->setSelectionMode(QAbstractItemView::SingleSelection);
    table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table->setTabKeyNavigation(false);
    table->verticalHeader()->hide();
    table->horizontalHeader()->setStretchLastSection(true);
}

Status readTime(QTime &time, const QString &text)
{
    const Result<QTime> read = timeTyped(text);
    if (!read) {
        return tl::unexpected<Error>(read.error());
    }
    time = *read;
    return {};
}

} // namespace

QWidget *NoticePanel::buildLeft()
{
    auto *side = new QWidget(this);
    shape(m_table, {tr("Shut"), tr("Services"), tr("Critical"), tr("Tell by"), tr("Told")},
          tr("Planned shuts"));
    m_table->setObjectName(QStringLiteral("noticeJobs"));
    m_table->setColumnWidth(0, 220);
    m_table->setColumnWidth(1, 84);
    m_table->setColumnWidth(2, 76);
    m_table->setColumnWidth(3, 136);
    shape(m_people, {tr("Address"), tr("Customer"), tr("Phone"), tr("Service"), tr("Critical")},
          tr("Who is without water"));
    m_people->setObjectName(QStringLiteral("noticePeople"));
    m_people->setColumnWidth(0, 190);
    m_people->setColumnWidth(1, 150);
    connect(m_table, &QTableWidget::itemSelectionChanged, this, [this] {
        m_told = 0; // all of this shut's, until somebody types another number
        showChosen();
    });
    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(plainCaption(tr("Planned shuts"), QStringLiteral("heading"), side));
    layout->addWidget(m_table, 2);
    layout->addWidget(plainCaption(tr("Who is without water"), QStringLiteral("heading"), side));
    layout->addWidget(m_people, 3);
    layout->addWidget(plainLabel(
        tr("Worked out from how the mains are joined, not from pressure: ask the operators who "
           "else may notice it."),
        QStringLiteral("quiet"), side));
    return side;
}

CheckedLine *NoticePanel::addLine(QFormLayout *form, const QString &label, const char *name,
                                  std::function<Status(NoticeJob &, const QString &)> write)
{
    auto *line = new CheckedLine(
        label,
        [this, write = std::move(write)](const QString &text) -> Status {
            NoticeJob *job = chosen();
            if (job == nullptr) {
                return {};
            }
            NoticeJob after = *job;
            Status written = write(after, text);
            if (written) {
                const ProjectSettings &settings = m_session.settings();
                after.latest = latestNotice(QDateTime(after.day, after.from), settings.notice,
                                            settings.holidays);
                *job = std::move(after);
                showJobs();
            }
            return written;
        },
        this);
    line->setObjectName(QLatin1String(name));
    form->addRow(label, line);
    m_lines.emplace_back(line, QLatin1String(name));
    return line;
}

QWidget *NoticePanel::buildRight()
{
    auto *side = new QWidget(this);
    auto *form = new QFormLayout;
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    addLine(form, tr("Day of the work"), "noticeDay", [](NoticeJob &job, const QString &text) {
        const auto day = parseDate(text, std::nullopt);
        if (!day || !*day) {
            return Status(fail(ErrorCode::BadInput,
                               tr("\"%1\" is no date. Write year, month and day: 2026-03-16.")
                                   .arg(text.trimmed())));
        }
        job.day = **day;
        return Status{};
    });
    // The window moves whole, so that water is never back before it went off.
    addLine(form, tr("Water goes off"), "noticeFrom", [](NoticeJob &job, const QString &text) {
        const int seconds = job.from.secsTo(job.to);
        return readTime(job.from, text).and_then([&job, seconds]() -> Status {
            job.to = job.from.addSecs(seconds);
            return job.to > job.from
                       ? Status{}
                       : Status(fail(ErrorCode::BadInput,
                                     tr("The water would be back after midnight. Say first when it "
                                        "is back, or tell of two days.")));
        });
    });
    addLine(form, tr("Water is back"), "noticeTo", [](NoticeJob &job, const QString &text) {
        return readTime(job.to, text).and_then([&job]() -> Status {
            return job.to > job.from
                       ? Status{}
                       : Status(fail(ErrorCode::BadInput,
                                     tr("Water is back after it goes off, on the same day.")));
        });
    });
    addLine(form, tr("Why"), "noticeWhy",
            [this](NoticeJob &, const QString &text) {
                m_why = text.trimmed();
                return Status{};
            })
        ->line()
        ->setPlaceholderText(tr("empty: the usual reason"));
    m_wordings->setObjectName(QStringLiteral("noticeWordings"));
    m_wordings->setAccessibleName(tr("Wordings to print"));
    m_wordings->setMaximumHeight(150);
    m_wordings->setSpacing(1);
    connect(m_wordings, &QListWidget::itemChanged, this, &NoticePanel::showWords);
    connect(m_wordings, &QListWidget::currentRowChanged, this, &NoticePanel::showWords);
    form->addRow(tr("Wordings"), m_wordings);
    m_words->setObjectName(QStringLiteral("noticeWords"));
    m_words->setTextInteractionFlags(Qt::TextSelectableByMouse);
    m_words->setMargin(10);
    m_words->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    auto *area = new QScrollArea(side);
    area->setWidgetResizable(true);
    area->setWidget(m_words);
    m_lead->setObjectName(QStringLiteral("noticeLead"));
    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(8, 0, 0, 0);
    layout->addWidget(m_lead);
    layout->addLayout(form);
    layout->addWidget(area, 1);
    layout->addWidget(buildPaperRow());
    layout->addWidget(buildToldRow());
    return side;
}

QWidget *NoticePanel::buildPaperRow()
{
    auto *row = new QWidget(this);
    auto *layout = new QHBoxLayout(row);
    layout->setContentsMargins(0, 0, 0, 0);
    const auto add = [&](const QString &text, const char *name, auto act) {
        auto *button = new QPushButton(text, row);
        button->setObjectName(QLatin1String(name));
        connect(button, &QPushButton::clicked, this, act);
        layout->addWidget(button);
        m_needJob.push_back(button);
    };
    add(tr("Door hangers..."), "noticeHangers", [this] { preview(NoticeForm::DoorHanger); });
    add(tr("Letters..."), "noticeLetters", [this] { preview(NoticeForm::Letter); });
    add(tr("Call list..."), "noticeCalls", [this] { preview(NoticeForm::Call); });
    add(tr("Services (CSV)..."), "noticeCsv", [this] { saveCsv(); });
    layout->addStretch(1);
    return row;
}

QWidget *NoticePanel::buildToldRow()
{
    auto *box = new QWidget(this);
    auto *form = new QFormLayout;
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    addLine(form, tr("How they were told"), "noticeHow", [this](NoticeJob &, const QString &text) {
        m_how = text.trimmed();
        return Status{};
    });
    addLine(form, tr("How many services"), "noticeTold",
            [this](NoticeJob &job, const QString &text) -> Status {
                const auto most = static_cast<double>(job.recipients.size());
                const Result<double> number = numberTyped(text, 1, most);
                if (!number || *number != static_cast<int>(*number)) {
                    return fail(ErrorCode::BadInput,
                                tr("Type a whole number from 1 to %1.").arg(most));
                }
                m_told = static_cast<int>(*number);
                return {};
            });
    m_write = new QPushButton(tr("Write down that they were told now"), box);
    m_write->setObjectName(QStringLiteral("noticeWrite"));
    m_write->setToolTip(tr("It is written down once and cannot be undone."));
    connect(m_write, &QPushButton::clicked, this, &NoticePanel::writeDown);
    m_needJob.push_back(m_write);
    m_given->setObjectName(QStringLiteral("noticeGiven"));
    auto *layout = new QVBoxLayout(box);
    layout->setContentsMargins(0, 8, 0, 0);
    layout->addLayout(form);
    auto *log = new QPushButton(tr("All notices given (CSV)..."), box);
    log->setObjectName(QStringLiteral("noticeLog"));
    connect(log, &QPushButton::clicked, this, &NoticePanel::saveLog);
    auto *buttons = new QHBoxLayout;
    buttons->addWidget(m_write);
    buttons->addWidget(log);
    buttons->addStretch(1);
    layout->addLayout(buttons);
    layout->addWidget(m_given);
    return box;
}

} // namespace keyround
